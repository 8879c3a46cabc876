import type { Raster, Tone } from '../candidate.ts'
import { flatten, flattenReach } from '../ground/flatten.ts'
import { type LevelSource, type LevelWindow, sizeAt, windowOf } from '../ground/levels.ts'
import { smoothed } from '../ground/smoothed.ts'
import type { PitSearch } from './pit-plan.ts'
import { spreadReach, spreadsOf } from './pit-spread.ts'

/** A round blob, pixels. */
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
  readonly columns: number
  readonly smooth: Float32Array
  readonly response: Float32Array
}

/** A scale between its neighbours. */
type Scales = readonly [finer: Scale, own: Scale, coarser: Scale]

const scalesAnOctave = 3
/** The least response that is looked at, standard deviations. */
export const leastContrast = 3
/** A blob is at least this round, and stands out this share of its mean height on every side. */
const leastRoundness = 0.35
const leastSide = 0.35

/** A disc of this many sigmas across answers best at sigma. */
const diameterOfSigma = 2 * Math.SQRT2

/**
 * Round blobs in a window of a level by the scale-normalised Laplacian: maxima over place and scale, the place by a parabola through three
 * values. What is found at a place does not depend on the window. Places and diameters are pixels of the level.
 *
 * Method  Lindeberg 1998, "Feature detection with automatic scale selection", IJCV 30, 79 to 116. A disc of diameter d answers most at
 *         sigma = d / (2 sqrt 2). Lines are sorted out by the ratio of the principal curvatures, edges by the weakest of eight sides.
 * Cost    some 50 bytes a pixel of the window and of up to 200 pixels beyond it.
 */
export function pitPeaks(
  source: LevelSource,
  { level, fromPx, toPx, tones }: PitSearch,
  leastSpread: number,
  core: LevelWindow,
): PitPeak[] {
  const whole = sizeAt(source, level)
  const sigmas = sigmasOf(fromPx, toPx)
  const widest = sigmas.at(-1)!
  const near = grown(core, spreadReach(sigmas.at(-2)!) + Math.ceil(3 * widest) + 2, whole)
  const far = grown(near, flattenReach, whole)
  const raster = source.read(level, far)
  const inFar = { ...near, left: near.left - far.left, top: near.top - far.top }
  const known = windowOf(raster, inFar)
  const flat = windowOf(flatten(raster, leastSpread), inFar)
  const found: PitPeak[] = []
  let [finer, own] = [scaleOf(flat, sigmas[0]!), scaleOf(flat, sigmas[1]!)]
  for (const sigma of sigmas.slice(2)) {
    const coarser = scaleOf(flat, sigma)
    const spreads = spreadsOf(own.response, known, own.sigma, near, whole)
    const contrastAt = (i: number): number => {
      const [row, column] = [Math.floor(i / near.columns), i % near.columns]
      return Math.abs(own.response[i]!) / spreads.at(row + near.top, column + near.left)
    }
    for (const peak of peaksOf([finer, own, coarser], known, { core, near, whole }, tones, contrastAt)) {
      found.push({ ...peak, x: peak.x + near.left, y: peak.y + near.top })
    }
    ;[finer, own] = [own, coarser]
  }
  return found
}

/** Sigmas of the sizes asked for, with one more at either end so that the ends have neighbours. */
function sigmasOf(fromPx: number, toPx: number): number[] {
  const ratio = 2 ** (1 / scalesAnOctave)
  const first = fromPx / diameterOfSigma / ratio
  const count = Math.max(1, Math.ceil(Math.log(toPx / fromPx) / Math.log(ratio))) + 3
  return Array.from({ length: count }, (_, i) => first * ratio ** i)
}

interface Frame {
  readonly columns: number
  readonly rows: number
}

function grown(window: LevelWindow, by: number, { columns, rows }: Frame): LevelWindow {
  const [left, top] = [Math.max(0, window.left - by), Math.max(0, window.top - by)]
  return {
    left,
    top,
    columns: Math.min(columns, window.left + window.columns + by) - left,
    rows: Math.min(rows, window.top + window.rows + by) - top,
  }
}

function scaleOf({ columns, rows, values }: Raster, sigma: number): Scale {
  const smooth = smoothed(values, columns, rows, sigma)
  const response = new Float32Array(smooth.length)
  const factor = sigma * sigma
  for (let row = 1; row < rows - 1; row++)
    for (let i = row * columns + 1, end = i + columns - 2; i < end; i++)
      response[i] =
        factor *
        (4 * smooth[i]! - smooth[i - 1]! - smooth[i + 1]! - smooth[i - columns]! - smooth[i + columns]!)
  return { sigma, columns, smooth, response }
}

interface Windows {
  readonly core: LevelWindow
  readonly near: LevelWindow
  readonly whole: Frame
}

/** Blobs of the middle one of three scales whose highest pixel lies in the core; places are pixels of the near window. */
function peaksOf(
  scales: Scales,
  known: Raster,
  { core, near, whole }: Windows,
  tones: readonly Tone[],
  contrastAt: (i: number) => number,
): PitPeak[] {
  const { sigma, response } = scales[1]
  const edge = Math.ceil(3 * sigma) + 1
  const left = Math.max(edge, core.left) - near.left
  const right = Math.min(whole.columns - edge, core.left + core.columns) - near.left
  const top = Math.max(edge, core.top) - near.top
  const bottom = Math.min(whole.rows - edge, core.top + core.rows) - near.top
  const [dark, light] = [tones.includes('dark'), tones.includes('light')]
  const found: PitPeak[] = []
  for (let row = top; row < bottom; row++) {
    for (let i = row * near.columns + left, end = row * near.columns + right; i < end; i++) {
      const height = response[i]!
      const sign = height > 0 ? 1 : -1
      if (height === 0 || !(sign > 0 ? light : dark) || !isPeak(scales, i, sign)) continue
      if (Number.isNaN(known.values[i]!)) continue
      const contrast = contrastAt(i)
      if (contrast < leastContrast) continue
      const peak = looked(scales, i, sign)
      if (peak) found.push({ ...peak, tone: sign > 0 ? 'light' : 'dark', contrast })
    }
  }
  return found
}

/** Above its 26 neighbours in place and scale; of equal ones the first. The nearest are asked first, for most are settled by them. */
function isPeak([finer, { columns, response }, coarser]: Scales, i: number, sign: number): boolean {
  const own = response[i]! * sign
  if (response[i + 1]! * sign > own || response[i - 1]! * sign >= own) return false
  if (response[i + columns]! * sign > own || response[i - columns]! * sign >= own) return false
  for (let dy = -1; dy <= 1; dy++) {
    const at = i + dy * columns
    for (let j = at - 1; j <= at + 1; j++) {
      if (finer.response[j]! * sign >= own || coarser.response[j]! * sign > own) return false
      const other = response[j]! * sign
      if (other > own || (other === own && j < i)) return false
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
  [finer, { sigma, columns, smooth, response: r }, coarser]: Scales,
  i: number,
  sign: number,
): Omit<PitPeak, 'tone' | 'contrast'> | null {
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
  const up = topOf(finer.response[i]!, r[i]!, coarser.response[i]!)
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
