import { thinLine } from '#core/geometry'
import type { Tone } from '../candidate.ts'
import type { LineSettings } from './line-candidate.ts'
import type { Chain, TracedPoints } from './line-chains.ts'
import { longestStep, stepLength, type TracedNoise } from './line-evidence.ts'
import { linkedChains } from './line-links.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'
import { lineScale, widerScale } from './line-response.ts'
import { lengthsAlong, partedAtCorners, smoothLine } from './line-shape.ts'

/** A line with what it shows. Pixels of the image. */
export interface MeasuredLine {
  readonly level: number
  readonly tone: Tone
  readonly xy: Float64Array
  readonly length: number
  readonly width: number
  readonly completeness: number
  readonly contrast: number
  /** Contrast against the lesser side over that against both: 1 for a ditch in even ground, near 0 at a step. */
  readonly evenness: number
  /** Logarithm of the odds against bare ground. */
  readonly logOdds: number
}

/** Vertices may be this far from where the line was found, pixels of the level. */
const thinning = 0.2
/** Widths that a line turned out to have may be this much beyond those asked for: they are rough. */
const widthSlack = 1.6

/** Everything at one level and tone that may be a line, of points of the level and the chains traced through them. */
export function measuredLines(
  { points, chains }: TracedPoints,
  { level, tone, noise }: { readonly level: number; readonly tone: Tone; readonly noise: TracedNoise },
  { minWidthPx, maxWidthPx, leastLengthPx }: LineSettings,
): MeasuredLine[] {
  const scale = 2 ** level
  const pieces = chains.flatMap((chain) => partedAtCorners(points, chain))
  return linkedChains(points, pieces, noise).flatMap(({ chain: whole, total }) => {
    const chain = withoutSoftEnds(points, whole)
    // Smoothing makes nothing longer, save by a bend's correction.
    if (chain.length < 3 || lengthsAlong(points, chain).at(-1)! * scale < leastLengthPx) return []
    const { width, contrast, evenness } = sectionOf(points, chain)
    if (width * scale < minWidthPx / widthSlack || width * scale > maxWidthPx * widthSlack) return []
    const smooth = smoothLine(points, chain)
    const length = polylineLength(smooth) * scale
    if (length < leastLengthPx) return []
    return [
      {
        level,
        tone,
        xy: thinLine(smooth, thinning).map((value) => value * scale),
        length,
        width: width * scale,
        completeness: shareSeen(points, chain),
        contrast,
        evenness,
        logOdds: total,
      },
    ]
  })
}

function polylineLength(xy: Float64Array): number {
  let sum = 0
  for (let i = 2; i < xy.length; i += 2) sum += Math.hypot(xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!)
  return sum
}

/** FWHM of a Gaussian in its standard deviations. */
const fullWidth = 2.3548
const narrowest = 0.4
const widest = 3.5

/**
 * Width and depth of a line of Gaussian section from its responses at two scales, means over the chain: a line of deviation w and depth a smoothed by s bends by
 * a s^2 w / (w^2 + s^2)^1.5 in its middle.
 */
function sectionOf(points: LinePoints, chain: Chain): { width: number; contrast: number; evenness: number } {
  const mean = (field: number): number => {
    let sum = 0
    for (const i of chain) sum += points[i * pointStride + field]!
    return sum / chain.length
  }
  const [narrow, wide] = [mean(at.narrow), mean(at.wide)]
  const [s, t] = [lineScale ** 2, widerScale ** 2]
  // With r = narrow / wide: r t / s = ((w^2 + t) / (w^2 + s))^1.5.
  const ratio = (Math.max(1e-9, narrow / s) / Math.max(1e-9, wide / t)) ** (2 / 3)
  const squared = ratio > 1 ? (t - ratio * s) / (ratio - 1) : Infinity
  const w = Math.sqrt(Math.max(narrowest ** 2, Math.min(widest ** 2, squared)))
  const [left, right] = [mean(at.left), mean(at.right)]
  return {
    width: fullWidth * w,
    contrast: (wide * (w * w + t) ** 1.5) / (t * w),
    evenness: Math.min(left, right) / Math.max(1e-9, (left + right) / 2),
  }
}

/** How far responses are smoothed along a chain before a place is told seen, points to either side. */
const seenReach = 3
const seenShare = 0.4
/** An end that shows less than this of what the line usually shows is smoothing, not line. */
const endShare = 0.5

interface Shown {
  /** Response along the chain. */
  readonly local: Float64Array
  /** What the better half of it usually shows. */
  readonly usual: number
}

function shownAlong(points: LinePoints, chain: Chain, reach: number): Shown {
  const local = new Float64Array(chain.length)
  for (let n = 0; n < chain.length; n++) {
    const [from, to] = [Math.max(0, n - reach), Math.min(chain.length - 1, n + reach)]
    for (let k = from; k <= to; k++) local[n]! += points[chain[k]! * pointStride + at.wide]!
    local[n]! /= to - from + 1
  }
  // The middle one of the better half.
  const usual = local.toSorted()[local.length - 1 - (Math.ceil(local.length / 2) >> 1)]!
  return { local, usual }
}

function withoutSoftEnds(points: LinePoints, chain: Chain): Chain {
  const { local, usual } = shownAlong(points, chain, 1)
  const shows = (value: number): boolean => value >= endShare * usual
  return chain.slice(Math.max(0, local.findIndex(shows)), local.findLastIndex(shows) + 1)
}

/** Share of the length along which the line is over 0.4 of what its better half usually shows. */
function shareSeen(points: LinePoints, chain: Chain): number {
  const { local, usual } = shownAlong(points, chain, seenReach)
  const along = lengthsAlong(points, chain)
  let seen = 0
  for (let n = 1; n < chain.length; n++) {
    if (stepLength(points, chain[n - 1]!, chain[n]!) > longestStep) continue
    if (local[n]! > seenShare * usual) seen += along[n]! - along[n - 1]!
  }
  return Math.min(1, seen / Math.max(1e-9, along.at(-1)!))
}
