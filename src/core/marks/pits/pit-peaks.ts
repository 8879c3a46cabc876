import type { Raster, Tone } from '../candidate.ts'
import { flatten } from '../ground/flatten.ts'
import { valueOfRank } from '../ground/rank.ts'
import { smoothed } from '../ground/smoothed.ts'

/** A round blob of one level, pixels of it. */
export interface PitPeak {
  readonly x: number
  readonly y: number
  readonly diameter: number
  readonly tone: Tone
  /** Lesser curvature over greater, 0 (a line) to 1 (round). */
  readonly roundness: number
  /** Height of the response, in its own standard deviations on this ground. */
  readonly contrast: number
}

/** One smoothed image and its response: minus the Laplacian times the variance, so that a light blob is a hill. */
interface Scale {
  readonly sigma: number
  readonly smooth: Float32Array
  readonly response: Float32Array
}

/** Scales an octave, and the least response that is looked at, standard deviations. */
const scalesAnOctave = 3
const leastContrast = 3
/** A blob is at least this round, and stands out this share of its mean height on every side. */
const leastRoundness = 0.35
const leastSide = 0.35

/** A disc of this many sigmas across answers best at sigma. */
const diameterOfSigma = 2 * Math.SQRT2

/**
 * Round blobs by the scale-normalised Laplacian: maxima over place and scale, the place by a parabola through three values.
 *
 * Method  Lindeberg 1998, "Feature detection with automatic scale selection", IJCV 30, 79 to 116. A disc of diameter d answers most at
 *         sigma = d / (2 sqrt 2). Lines are sorted out by the ratio of the principal curvatures, edges by the weakest of eight sides.
 * Gives   nothing where the raster is flat or without data.
 */
export function pitPeaks(raster: Raster, fromPx: number, toPx: number, tones: readonly Tone[]): PitPeak[] {
  const least = leastSpreadOf(raster)
  if (least === 0) return []
  const { columns, rows } = raster
  const flat = flatten(raster, least)
  const ratio = 2 ** (1 / scalesAnOctave)
  // One scale beyond either end, so that the ends have neighbours.
  const first = fromPx / diameterOfSigma / ratio
  const count = Math.max(1, Math.ceil(Math.log(toPx / fromPx) / Math.log(ratio))) + 3
  const scales = Array.from({ length: count }, (_, i) => scaleOf(flat, first * ratio ** i))
  const found: PitPeak[] = []
  for (let s = 1; s < count - 1; s++) {
    const { sigma, response } = scales[s]!
    const spreads = spreadsOf(scales[s]!, raster)
    const edge = Math.ceil(3 * sigma) + 1
    for (const tone of tones) {
      const sign = tone === 'light' ? 1 : -1
      for (let row = edge; row < rows - edge; row++) {
        for (let i = row * columns + edge, end = (row + 1) * columns - edge; i < end; i++) {
          const height = response[i]! * sign
          if (height <= 0 || Number.isNaN(raster.values[i]!) || !isPeak(scales, s, i, columns, sign)) continue
          const contrast = height / spreads.at(row, i - row * columns)
          if (contrast < leastContrast) continue
          const peak = looked(scales, s, i, columns, sign)
          if (!peak) continue
          found.push({ ...peak, tone, contrast })
        }
      }
    }
  }
  return found
}

/** A thousandth of the standard deviation of all that is known; 0 where all is the same. */
export function leastSpreadOf({ values }: Raster): number {
  let [count, sum, squares] = [0, 0, 0]
  let first = Number.NaN
  for (const value of values) {
    if (Number.isNaN(value)) continue
    if (count === 0) first = value
    const off = value - first
    count++
    sum += off
    squares += off * off
  }
  return count === 0 ? 0 : 1e-3 * Math.sqrt(Math.max(0, squares / count - (sum / count) ** 2))
}

function scaleOf(
  {
    columns,
    rows,
    values,
  }: { readonly columns: number; readonly rows: number; readonly values: Float32Array },
  sigma: number,
): Scale {
  const smooth = smoothed(values, columns, rows, sigma)
  const response = new Float32Array(smooth.length)
  const factor = sigma * sigma
  for (let row = 1; row < rows - 1; row++)
    for (let i = row * columns + 1, end = i + columns - 2; i < end; i++)
      response[i] =
        factor *
        (4 * smooth[i]! - smooth[i - 1]! - smooth[i + 1]! - smooth[i - columns]! - smooth[i + columns]!)
  return { sigma, smooth, response }
}

const mostSampled = 2000
/** Spread is taken over squares this wide, pixels, or this many sigmas, whichever is more. */
const squarePx = 64
const squareSigmas = 24

/** Spread of a response about every node of a grid that goes over the raster evenly. */
interface LocalSpread {
  at(row: number, column: number): number
}

/**
 * Standard deviation of a response about each place, by the median of absolute values (times 1.4826, as for a normal distribution): a few
 * blobs do not raise it. Local, because a ditch or hedge in the flattening's window makes the grain beside it look fine.
 */
function spreadsOf({ sigma, response }: Scale, { columns, rows, values }: Raster): LocalSpread {
  const half = Math.ceil(Math.max(squarePx, squareSigmas * sigma) / 2)
  const across = Math.ceil(columns / half)
  const down = Math.ceil(rows / half)
  const spreads = new Float64Array(across * down)
  const step = Math.max(1, Math.floor((2 * half) / Math.sqrt(mostSampled)))
  for (let node = 0; node < spreads.length; node++) {
    const middleColumn = Math.round((((node % across) + 0.5) * columns) / across)
    const middleRow = Math.round(((Math.floor(node / across) + 0.5) * rows) / down)
    const sizes: number[] = []
    for (let row = Math.max(0, middleRow - half); row < Math.min(rows, middleRow + half); row += step) {
      const [from, to] = [Math.max(0, middleColumn - half), Math.min(columns, middleColumn + half)]
      for (let i = row * columns + from; i < row * columns + to; i += step)
        if (!Number.isNaN(values[i]!)) sizes.push(Math.abs(response[i]!))
    }
    const median = sizes.length === 0 ? 0 : valueOfRank(Float64Array.from(sizes), sizes.length >> 1)
    // Ground without any grain has a median of 0; a pit on it must still be one.
    spreads[node] = Math.max(1e-4, 1.4826 * median)
  }
  return {
    at: (row, column) =>
      spreads[Math.floor((row * down) / rows) * across + Math.floor((column * across) / columns)]!,
  }
}

/** Above its 26 neighbours in place and scale; of equal ones the first. */
function isPeak(scales: readonly Scale[], s: number, i: number, columns: number, sign: number): boolean {
  const own = scales[s]!.response[i]! * sign
  for (let ds = -1; ds <= 1; ds++) {
    const { response } = scales[s + ds]!
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        if (ds === 0 && dy === 0 && dx === 0) continue
        const other = response[i + dy * columns + dx]! * sign
        const isBefore = ds < 0 || (ds === 0 && (dy < 0 || (dy === 0 && dx < 0)))
        if (other > own || (other === own && isBefore)) return false
      }
    }
  }
  return true
}

/** Where a parabola through three values has its top, from the middle one. */
function topOf(before: number, at: number, after: number): number {
  const bend = before + after - 2 * at
  return bend === 0 ? 0 : Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend)))
}

function looked(
  scales: readonly Scale[],
  s: number,
  i: number,
  columns: number,
  sign: number,
): Omit<PitPeak, 'tone' | 'contrast'> | null {
  const { sigma, smooth, response: r } = scales[s]!
  const xx = smooth[i - 1]! + smooth[i + 1]! - 2 * smooth[i]!
  const yy = smooth[i - columns]! + smooth[i + columns]! - 2 * smooth[i]!
  const xy =
    (smooth[i - columns - 1]! +
      smooth[i + columns + 1]! -
      smooth[i - columns + 1]! -
      smooth[i + columns - 1]!) /
    4
  const mean = (-sign * (xx + yy)) / 2
  const root = Math.hypot((xx - yy) / 2, xy)
  const roundness = (mean - root) / (mean + root)
  if (!(roundness >= leastRoundness) || !standsOut(smooth, i, columns, 3 * sigma, sign)) return null
  const [row, column] = [Math.floor(i / columns), i % columns]
  const up = topOf(scales[s - 1]!.response[i]!, r[i]!, scales[s + 1]!.response[i]!)
  return {
    x: column + 0.5 + topOf(r[i - 1]!, r[i]!, r[i + 1]!),
    y: row + 0.5 + topOf(r[i - columns]!, r[i]!, r[i + columns]!),
    diameter: diameterOfSigma * sigma * 2 ** (up / scalesAnOctave),
    roundness,
  }
}

/** Whether the middle is above all eight sides at a distance: an edge has one side as high, a line two. */
function standsOut(
  smooth: Float32Array,
  i: number,
  columns: number,
  distance: number,
  sign: number,
): boolean {
  const sides = Array.from({ length: 8 }, (_, k) => {
    const angle = (k * Math.PI) / 4
    const dx = Math.round(distance * Math.cos(angle))
    const dy = Math.round(distance * Math.sin(angle))
    return sign * (smooth[i]! - smooth[i + dy * columns + dx]!)
  })
  const mean = sides.reduce((sum, side) => sum + side, 0) / sides.length
  return mean > 0 && Math.min(...sides) >= leastSide * mean
}
