import type { Raster } from '../candidate.ts'

/** Arcs that a circle is parted into; evidence is weighed arc by arc, so that no single line or blob can carry a ring. */
export const sectorCount = 24

/** Ditch widths tried, pixels of the image looked at. */
export const widths = [1.8, 2.6, 3.8, 5.5] as const

/** How far a profile reaches inside and outside the circle that it was taken about, pixels. */
const bandHalf = 13

/** Width of the ground beside a ditch that it is held against, pixels. */
const flank = (width: number): number => Math.max(2, width)
const between = 0.7

/** Means of the image over each arc at each distance from the centre, as running sums outwards. */
export interface SectorProfiles {
  /** Distance of the first sum from the centre, pixels. */
  readonly inner: number
  /** Sums an arc; one more than the rings of pixels. */
  readonly steps: number
  /** `steps` running sums for each arc. */
  readonly sums: Float64Array
  /** Whether most of an arc has data. */
  readonly known: Uint8Array
}

const anglesOf = new Map<number, { readonly cos: Float64Array; readonly sin: Float64Array }>()

function angles(count: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  let found = anglesOf.get(count)
  if (!found) {
    // Clockwise from up, as bearings are; the first arc begins there.
    const at = (i: number): number => (2 * Math.PI * (i + 0.5)) / count
    found = {
      cos: Float64Array.from({ length: count }, (_, i) => Math.sin(at(i))),
      sin: Float64Array.from({ length: count }, (_, i) => -Math.cos(at(i))),
    }
    anglesOf.set(count, found)
  }
  return found
}

/** East and south parts of the direction to the middle of each arc. */
export const sectorDirections = angles(sectorCount)

/** One fit is done at a time, and a hundred thousand small arrays keep the collector of garbage busy. */
const profileSums = new Float64Array(sectorCount * (2 * bandHalf + 1))
const profileKnown = new Uint8Array(sectorCount)

/**
 * Takes profiles about the circle of `radius` around (x, y), in pixels from the corner of the upper left pixel, of samples some `apart` pixels along the circle.
 * Good until the next call, which takes the same room.
 */
export function sectorProfiles(
  image: Raster,
  x: number,
  y: number,
  radius: number,
  apart = 1,
): SectorProfiles {
  const { columns, rows, values } = image
  const inner = Math.max(0, Math.floor(radius) - bandHalf)
  const rings = Math.floor(radius) + bandHalf - inner
  const steps = rings + 1
  const each = Math.max(2, Math.ceil((2 * Math.PI * radius) / sectorCount / apart))
  const { cos, sin } = angles(each * sectorCount)
  const sums = profileSums
  const known = profileKnown
  const farthest = inner + rings + 1
  // Where the whole of the profile lies within the image no sample needs to be asked whether it does.
  const clear = x > farthest && y > farthest && x < columns - farthest - 1 && y < rows - farthest - 1
  for (let sector = 0; sector < sectorCount; sector++) {
    let missing = 0
    let running = 0
    const from = sector * steps
    let last = 0
    sums[from] = 0
    const first = sector * each
    const end = first + each
    for (let ring = 0; ring < rings; ring++) {
      const rho = inner + ring + 0.5
      let sum = 0
      let count = 0
      if (clear) {
        count = each
        for (let i = first; i < end; i++) {
          const px = x + rho * cos[i]! - 0.5
          const py = y + rho * sin[i]! - 0.5
          const left = px | 0
          const top = py | 0
          const u = px - left
          const at = top * columns + left
          const upper = values[at]!
          const lower = values[at + columns]!
          const above = upper + (values[at + 1]! - upper) * u
          sum += above + (lower + (values[at + columns + 1]! - lower) * u - above) * (py - top)
        }
      }
      // Beside the edge, or where a sample has no data.
      if (!clear || Number.isNaN(sum)) {
        sum = 0
        count = 0
        for (let i = first; i < end; i++) {
          const value = sampleAt(image, x + rho * cos[i]! - 0.5, y + rho * sin[i]! - 0.5)
          if (Number.isNaN(value)) continue
          sum += value
          count++
        }
      }
      if (2 * count < each) missing++
      else last = sum / count
      running += last
      sums[from + ring + 1] = running
    }
    known[sector] = missing * 4 <= rings ? 1 : 0
  }
  return { inner, steps, sums, known }
}

/** Between four pixels; NaN beyond the image and beside missing data. */
function sampleAt({ columns, rows, values }: Raster, px: number, py: number): number {
  const left = Math.floor(px)
  const top = Math.floor(py)
  if (left < 0 || top < 0 || left >= columns - 1 || top >= rows - 1) return Number.NaN
  const u = px - left
  const v = py - top
  const at = top * columns + left
  return (
    (values[at]! * (1 - u) + values[at + 1]! * u) * (1 - v) +
    (values[at + columns]! * (1 - u) + values[at + columns + 1]! * u) * v
  )
}

/** A running sum at a distance, between whole pixels by its share; `at` counts from the first sum. */
function sumAt(sums: Float64Array, from: number, last: number, at: number): number {
  if (at <= 0) return sums[from]!
  if (at >= last) return sums[from + last]!
  const i = Math.floor(at)
  const low = sums[from + i]!
  return low + (at - i) * (sums[from + i + 1]! - low)
}

/** Mean over an arc between two distances from the centre; NaN where nearly nothing lies between. */
function meanBetween(
  { inner, steps, sums }: SectorProfiles,
  sector: number,
  low: number,
  high: number,
): number {
  const last = steps - 1
  const a = Math.min(Math.max(low - inner, 0), last)
  const b = Math.min(Math.max(high - inner, 0), last)
  if (b - a < 0.25) return Number.NaN
  const from = sector * steps
  return (sumAt(sums, from, last, b) - sumAt(sums, from, last, a)) / (b - a)
}

/** What an arc has at a distance: the ditch less the ground inside it, and less the ground outside. */
export function sectorContrast(
  profiles: SectorProfiles,
  sector: number,
  radius: number,
  width: number,
): readonly [number, number] {
  const half = width / 2
  const side = flank(width)
  const ditch = meanBetween(profiles, sector, radius - half, radius + half)
  const outside = meanBetween(profiles, sector, radius + half + between, radius + half + between + side)
  const inside = meanBetween(profiles, sector, radius - half - between - side, radius - half - between)
  // In a ring so small that nothing is left inside, the ground outside must do.
  return [ditch - (Number.isNaN(inside) ? outside : inside), ditch - outside]
}

/** The mean of the two contrasts; NaN beyond the profile. The innermost sum of every fit. */
export function sectorRidge(profiles: SectorProfiles, sector: number, radius: number, width: number): number {
  const { inner, steps, sums } = profiles
  const last = steps - 1
  const from = sector * steps
  const half = width / 2
  const side = flank(width)
  const middle = radius - inner
  const insideFrom = middle - half - between - side
  const outsideTo = middle + half + between + side
  if (insideFrom >= 0 && outsideTo < last) {
    const ditch = within(sums, from, middle + half) - within(sums, from, middle - half)
    const beside =
      within(sums, from, outsideTo) -
      within(sums, from, outsideTo - side) +
      within(sums, from, insideFrom + side) -
      within(sums, from, insideFrom)
    return ditch / width - beside / (2 * side)
  }
  const [inwards, outwards] = sectorContrast(profiles, sector, radius, width)
  return (inwards + outwards) / 2
}

/**
 * `times` the ridge of every arc at a circle whose centre is moved by (dx, dy), NaN for arcs that are not known: `sectorRidge` in one loop, for a number that a
 * function gives back is put on the heap, and a search asks for some ten million.
 */
export function sectorRidges(
  profiles: SectorProfiles,
  circle: { readonly dx: number; readonly dy: number; readonly radius: number },
  width: number,
  times: number,
  out: Float64Array,
): void {
  const { inner, steps, sums, known } = profiles
  const { cos, sin } = sectorDirections
  const { dx, dy, radius } = circle
  const half = width / 2
  const side = flank(width)
  const far = half + between + side
  const perWidth = times / width
  const perSide = times / (2 * side)
  for (let k = 0; k < sectorCount; k++) {
    if (known[k] === 0) {
      out[k] = Number.NaN
      continue
    }
    const middle = radius + dx * cos[k]! + dy * sin[k]! - inner
    if (middle < far || middle + far >= steps - 1) {
      out[k] = times * sectorRidge(profiles, k, middle + inner, width)
      continue
    }
    const from = k * steps
    const ditch = within(sums, from, middle + half) - within(sums, from, middle - half)
    const beside =
      within(sums, from, middle + far) -
      within(sums, from, middle + far - side) +
      within(sums, from, middle - far + side) -
      within(sums, from, middle - far)
    out[k] = ditch * perWidth - beside * perSide
  }
}

/** `sumAt` where the distance is known to be within the profile. */
function within(sums: Float64Array, from: number, at: number): number {
  const i = at | 0
  const low = sums[from + i]!
  return low + (at - i) * (sums[from + i + 1]! - low)
}

/** Mean of an arc's ground well inside the ditch, and well outside, as far as the profile reaches. */
export function groundBeside(
  profiles: SectorProfiles,
  sector: number,
  radius: number,
  width: number,
): readonly [number, number] {
  const clear = width / 2 + between
  return [
    meanBetween(profiles, sector, profiles.inner, radius - clear),
    meanBetween(profiles, sector, radius + clear, profiles.inner + profiles.steps - 1),
  ]
}
