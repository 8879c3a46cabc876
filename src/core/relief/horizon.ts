import type { Edges, Reach, Terrain } from './terrain.ts'

export interface HorizonOptions {
  /** How far to look, metres. */
  readonly radiusM: number
  /** Directions looked in, evenly spread and the first to the north: an even number, 4 to 360. */
  readonly directions: number
  /** Heights are multiplied by this. */
  readonly zFactor: number
  readonly edges: Edges
}

/**
 * The places looked at in one direction, nearest first, each between two neighbouring cells; those of the opposite direction lie
 * across the cell. Where the ray runs through the middles of cells, `between` is false and the second cell is not looked at.
 */
interface Ray {
  readonly between: boolean
  /** Columns to the right and rows down of the first cell, and of the second. */
  readonly right: Int32Array
  readonly down: Int32Array
  readonly right2: Int32Array
  readonly down2: Int32Array
  /** Height to tangent: `zFactor` over the distance, times the share of each of the two cells. */
  readonly perMetre: Float64Array
  readonly perMetre2: Float64Array
}

/** Half the directions: the other half are their opposites. */
export interface Rays {
  readonly rays: readonly Ray[]
  readonly reach: Reach
}

/**
 * The places that each direction meets: one in each column or row along its steeper axis, where the ray crosses it, as far as they lie
 * within the radius. Heights there are taken in a straight line between the two cells on either side, so an even slope
 * is even in all directions.
 *
 * Faults: RangeError for a number of directions that is odd or out of range, or where a direction meets no cell.
 */
export function castRays(
  { cellX, cellY }: Terrain,
  { radiusM, directions, zFactor }: Omit<HorizonOptions, 'edges'>,
): Rays {
  if (!(Number.isInteger(directions / 2) && directions >= 4 && directions <= 360))
    throw new RangeError(`directions must be an even number, 4 to 360, got ${directions}`)
  if (!(zFactor > 0 && Number.isFinite(zFactor)))
    throw new RangeError(`heights cannot be taken ${zFactor} times`)
  if (!(radiusM > 0 && Number.isFinite(radiusM)))
    throw new RangeError(`a radius must be above 0 m, got ${radiusM}`)
  const rays = Array.from({ length: directions / 2 }, (_, i) => {
    const bearing = (2 * Math.PI * i) / directions
    const ray = castRay(Math.sin(bearing) / cellX, -Math.cos(bearing) / cellY, radiusM, zFactor)
    if (ray.right.length === 0)
      throw new RangeError(`a radius of ${radiusM} m does not reach the next cell of ${cellX} x ${cellY} m`)
    return ray
  })
  const farthest = (picks: (ray: Ray) => readonly Int32Array[]): number =>
    Math.max(
      ...rays.flatMap((ray) =>
        picks(ray).map((steps) => steps.reduce((m, s) => Math.max(m, Math.abs(s)), 0)),
      ),
    )
  const reach = {
    columns: farthest(({ right, right2, between }) => (between ? [right, right2] : [right])),
    rows: farthest(({ down, down2, between }) => (between ? [down, down2] : [down])),
  }
  return { rays, reach }
}

/** One ray that goes so many columns right and rows down in a metre. */
function castRay(rightPerMetre: number, downPerMetre: number, radiusM: number, zFactor: number): Ray {
  const alongColumns = Math.abs(rightPerMetre) >= Math.abs(downPerMetre) * (1 - 1e-9)
  const steep = alongColumns ? rightPerMetre : downPerMetre
  const step = 1 / Math.abs(steep)
  // A hair more, so that a whole number of cells counts as reached.
  const count = Math.floor((radiusM / step) * (1 + 1e-9))
  const places = Array.from({ length: count }, (_, k) => {
    const distance = (k + 1) * step
    // Sines of a quarter turn are not quite 0 and 1.
    const side = Math.round(distance * (alongColumns ? downPerMetre : rightPerMetre) * 1e9) / 1e9
    const first = Math.floor(side)
    return { ahead: Math.sign(steep) * (k + 1), first, share: side - first, distance }
  })
  const ahead = Int32Array.from(places, ({ ahead }) => ahead)
  const first = Int32Array.from(places, ({ first }) => first)
  // Where the ray meets the middle of a cell there is no second one to look at.
  const second = Int32Array.from(places, ({ first, share }) => (share > 0 ? first + 1 : first))
  return {
    between: places.some(({ share }) => share > 0),
    right: alongColumns ? ahead : first,
    down: alongColumns ? first : ahead,
    right2: alongColumns ? ahead : second,
    down2: alongColumns ? second : ahead,
    perMetre: Float64Array.from(places, ({ share, distance }) => (zFactor * (1 - share)) / distance),
    perMetre2: Float64Array.from(places, ({ share, distance }) => (zFactor * share) / distance),
  }
}

/** Heights below this are none: a number in place of NaN where sums must not become NaN. */
const noHeightBelow = -1e14

/** Some rows of a terrain with a margin all about, and a stand-in where there is no height: NaN, or a number below `noHeightBelow`. */
export interface Surroundings {
  readonly heights: Float32Array
  readonly stride: number
  readonly reach: Reach
  readonly paths: readonly Path[]
}

/** A ray as steps in `heights` from a cell to those on either side of each place, with what each height counts. */
export interface Path {
  readonly between: boolean
  readonly steps: Int32Array
  readonly steps2: Int32Array
  readonly perMetre: Float64Array
  readonly perMetre2: Float64Array
}

/** The rows from `from` up to `to` as heights (`sign` 1) or depths (-1), with all that the rays meet from them and `missing` where there is no height. */
export function surroundingsOf(
  { columns, rows, values }: Terrain,
  { rays, reach }: Rays,
  from: number,
  to: number,
  sign: 1 | -1,
  missing: number,
): Surroundings {
  const stride = columns + 2 * reach.columns
  const heights = new Float32Array(stride * (to - from + 2 * reach.rows)).fill(missing)
  for (let r = Math.max(0, from - reach.rows); r < Math.min(rows, to + reach.rows); r++) {
    const into = (r - from + reach.rows) * stride + reach.columns
    if (sign > 0) heights.set(values.subarray(r * columns, (r + 1) * columns), into)
    else for (let c = 0; c < columns; c++) heights[into + c] = -values[r * columns + c]!
    if (Number.isNaN(missing)) continue
    for (let p = into; p < into + columns; p++) if (Number.isNaN(heights[p]!)) heights[p] = missing
  }
  const stepsOf = (right: Int32Array, down: Int32Array): Int32Array =>
    right.map((column, k) => down[k]! * stride + column)
  const paths = rays.map(({ between, right, down, right2, down2, perMetre, perMetre2 }) => ({
    between,
    steps: stepsOf(right, down),
    steps2: stepsOf(right2, down2),
    perMetre,
    perMetre2,
  }))
  return { heights, stride, reach, paths }
}

/** Where the first cell of a row stands; rows counted from the first one wanted. */
export const rowStart = ({ reach, stride }: Surroundings, row: number): number =>
  (row + reach.rows) * stride + reach.columns

/** Makes those of the row's results NaN that have no height of their own or, where `edges` says so, a cell without one on a ray. */
export function blankMissing(
  surroundings: Surroundings,
  row: number,
  edges: Edges,
  results: Float32Array,
): void {
  const { heights, paths } = surroundings
  const looked =
    edges === 'leave'
      ? paths.flatMap(({ between, steps, steps2 }) => (between ? [steps, steps2] : [steps]))
      : []
  const at = rowStart(surroundings, row)
  const isThere = (p: number): boolean => heights[p]! > noHeightBelow
  const isWhole = (p: number): boolean =>
    isThere(p) && looked.every((steps) => steps.every((step) => isThere(p + step) && isThere(p - step)))
  for (let c = 0; c < results.length; c++) if (!isWhole(at + c)) results[c] = Number.NaN
}
