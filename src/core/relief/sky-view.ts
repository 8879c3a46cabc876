import {
  blankMissing,
  castRays,
  type HorizonOptions,
  type Path,
  rowStart,
  surroundingsOf,
} from './horizon.ts'
import { checkRows, type Terrain } from './terrain.ts'

/** Rows worked at a time, so that what is held beside the terrain stays small. */
const bandRows = 256
/** Stands for a height that is missing: so low that it hides nothing, even where a cell beside it counts for nearly all. */
const bottomless = -1e15

/**
 * Share of the sky that is seen from each cell of the rows from `rowFrom` up to `rowTo`: 1 on level ground and on tops, less in
 * ditches and beside banks; NaN where there is no height.
 *
 * Method  1 - mean of sin(horizon angle) over the directions, an angle below level counting as level (Zaksek, Ostir and Kokalj 2011,
 *         "Sky-view factor as a relief visualization technique", Remote Sensing 3, eq. 6). sin h = t / sqrt(1 + t^2), t the
 *         steepest tangent among the cells of `castRays`. Beyond the raster the sky is open.
 * Cost    about 0.8 ns a cell, direction and cell of radius; memory for 256 rows and the radius.
 * Faults  RangeError as `castRays` and `checkRows`.
 */
export function skyViewRows(
  terrain: Terrain,
  options: HorizonOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const fan = castRays(terrain, options)
  const { columns } = terrain
  const hidden = new Float64Array(columns)
  const steepest: Steepest = { ahead: new Float64Array(columns), behind: new Float64Array(columns) }
  for (let from = rowFrom; from < rowTo; from += bandRows) {
    const to = Math.min(rowTo, from + bandRows)
    const surroundings = surroundingsOf(terrain, fan, from, to, 1, bottomless)
    for (let row = from; row < to; row++) {
      hidden.fill(0)
      const start = rowStart(surroundings, row - from)
      for (const path of surroundings.paths) addSines(surroundings.heights, start, path, steepest, hidden)
      const at = row * columns
      for (let c = 0; c < columns; c++) out[at + c] = 1 - hidden[c]! / options.directions
      blankMissing(surroundings, row - from, options.edges, out.subarray(at, at + columns))
    }
  }
}

/** Share of the sky seen from each cell of a whole terrain; see `skyViewRows`. */
export function skyView(terrain: Terrain, options: HorizonOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  skyViewRows(terrain, options, out, 0, terrain.rows)
  return out
}

/** Of each cell of a row: the steepest tangent met along a ray and along the opposite one, 0 where all lies below. */
interface Steepest {
  readonly ahead: Float64Array
  readonly behind: Float64Array
}

/** For each cell of one row adds the sines of the horizon along a ray and along the opposite one. */
function addSines(
  heights: Float32Array,
  start: number,
  { between, steps, steps2, perMetre, perMetre2 }: Path,
  steepest: Steepest,
  sum: Float64Array,
): void {
  const { ahead, behind } = steepest
  ahead.fill(0)
  behind.fill(0)
  for (let k = 0; k < steps.length; k++) {
    if (between) lookBetween(heights, start, steps[k]!, steps2[k]!, perMetre[k]!, perMetre2[k]!, steepest)
    else lookThrough(heights, start, steps[k]!, perMetre[k]!, steepest)
  }
  for (let c = 0; c < sum.length; c++) {
    const t = ahead[c]!
    const u = behind[c]!
    sum[c] = sum[c]! + t / Math.sqrt(1 + t * t) + u / Math.sqrt(1 + u * u)
  }
}

/**
 * Keeps the steeper of what was met and of the place so many steps away, for a whole row at once. The larger of t and e is e + (t - e + |t - e|) / 2:
 * rough ground makes a comparison go either way at random, which costs the processor three times as much.
 */
function lookThrough(
  heights: Float32Array,
  start: number,
  step: number,
  perMetre: number,
  { ahead, behind }: Steepest,
): void {
  for (let c = 0, p = start; c < ahead.length; c++, p++) {
    const own = heights[p]!
    const t = (heights[p + step]! - own) * perMetre
    const u = (heights[p - step]! - own) * perMetre
    const e = ahead[c]!
    const f = behind[c]!
    ahead[c] = e + 0.5 * (t - e + Math.abs(t - e))
    behind[c] = f + 0.5 * (u - f + Math.abs(u - f))
  }
}

/** `lookThrough` for a place between two cells. */
function lookBetween(
  heights: Float32Array,
  start: number,
  step: number,
  step2: number,
  perMetre: number,
  perMetre2: number,
  { ahead, behind }: Steepest,
): void {
  for (let c = 0, p = start; c < ahead.length; c++, p++) {
    const own = heights[p]!
    const t = (heights[p + step]! - own) * perMetre + (heights[p + step2]! - own) * perMetre2
    const u = (heights[p - step]! - own) * perMetre + (heights[p - step2]! - own) * perMetre2
    const e = ahead[c]!
    const f = behind[c]!
    ahead[c] = e + 0.5 * (t - e + Math.abs(t - e))
    behind[c] = f + 0.5 * (u - f + Math.abs(u - f))
  }
}
