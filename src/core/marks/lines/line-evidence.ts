import type { Chain, TracedPoints } from './line-chains.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'

/** What traced chains show on bare ground: mean and spread of the local strength along them. Tracing takes the best, so the mean is above 0. */
export interface TracedNoise {
  readonly mean: number
  readonly spread: number
  /** What every pixel speaks for a line by being one more of a chain: one over the mean length of chains beyond the shortest. */
  readonly going: number
}

/** A chain with what it shows for a line. */
export interface LineEvidence {
  /** Logarithm of the likelihood ratio of "three parts in four show a line" against traced bare ground; what is beyond `from` and `to` speaks against it. */
  readonly total: number
  /** First and last of the chain's points that belong to the line. */
  readonly from: number
  readonly to: number
}

/** Local strengths of neighbours are alike over about so many pixels. */
const alikeOver = 4
/** Strengths of a line that are tried, in spreads of the noise. */
const tried = [0.5, 0.75, 1, 1.4, 1.9, 2.5, 3.2, 4] as const
/** A step longer than this is a gap, pixels. */
export const longestStep = 3.5
const leastSpread = 0.02
const enough = 40
/** What speaks against a line for each pixel of a gap. Nothing is measured there: less than a place without any line would count for (log 4 over 4). */
const gapCostAPixel = 0.2
/** Mean excess where there are too few chains to tell. */
const usualExcess = 8

export function tracedNoise(traced: readonly TracedPoints[]): TracedNoise {
  let [count, sum, squares] = [0, 0, 0]
  for (const { points, chains } of traced)
    for (const chain of chains)
      for (const i of chain) {
        const value = points[i * pointStride + at.local]!
        count++
        sum += value
        squares += value * value
      }
  const mean = sum / Math.max(1, count)
  const spread = Math.max(leastSpread, Math.sqrt(Math.max(0, squares / Math.max(1, count) - mean * mean)))
  return { mean, spread, going: 1 / meanExcess(traced) }
}

/** Chains of bare ground end as if by chance at every pixel: so their lengths fall off exponentially. Taken over the longer half. */
function meanExcess(traced: readonly TracedPoints[]): number {
  const lengths = traced
    .flatMap(({ points, chains }) => chains.map((chain) => chainLength(points, chain)))
    .sort((a, b) => b - a)
  if (lengths.length < enough) return usualExcess
  const longer = lengths.slice(0, lengths.length >> 1)
  return Math.max(2, longer.reduce((sum, length) => sum + length - longer.at(-1)!, 0) / longer.length)
}

function chainLength(points: LinePoints, chain: Chain): number {
  let sum = 0
  for (let n = 1; n < chain.length; n++) sum += stepLength(points, chain[n - 1]!, chain[n]!)
  return sum
}

export function stepLength(points: LinePoints, a: number, b: number): number {
  const dx = points[a * pointStride + at.x]! - points[b * pointStride + at.x]!
  const dy = points[a * pointStride + at.y]! - points[b * pointStride + at.y]!
  return Math.sqrt(dx * dx + dy * dy)
}

/** The evidence that costs to pass `length` pixels without a line. */
export function gapCost(length: number): number {
  return gapCostAPixel * length
}

/** log(1/4 + 3/4 exp(x)) at steps of `logStep` from `logFrom` on: below, nothing of the exponential is left, and above nothing else. */
const [logFrom, logTo, logStep] = [-14, 15, 1 / 64]
const logOfPart = Float64Array.from({ length: (logTo - logFrom) / logStep + 2 }, (_, n) =>
  Math.log(0.25 + 0.75 * Math.exp(logFrom + n * logStep)),
)

/** To 0.00001. */
function logPart(x: number): number {
  const at = (Math.max(logFrom, Math.min(logTo, x)) - logFrom) / logStep
  const n = Math.floor(at)
  return logOfPart[n]! + (at - n) * (logOfPart[n + 1]! - logOfPart[n]!)
}

/** Evidence of the best part of a chain, over all strengths of a line. */
export function lineEvidence(points: LinePoints, chain: Chain, noise: TracedNoise): LineEvidence {
  const steps = new Float64Array(chain.length + 1)
  const z = new Float64Array(chain.length)
  for (let n = 0; n < chain.length; n++) {
    if (n > 0) steps[n] = stepLength(points, chain[n - 1]!, chain[n]!)
    z[n] = (points[chain[n]! * pointStride + at.local]! - noise.mean) / noise.spread
  }
  let best: LineEvidence = { total: 0, from: 0, to: -1 }
  for (const c of tried) {
    // The part with the greatest sum (Kadane's pass).
    let [sum, start] = [0, 0]
    for (let n = 0; n < chain.length; n++) {
      const step = steps[n]!
      if (step > longestStep) sum -= gapCost(step - longestStep)
      if (sum <= 0) [sum, start] = [0, n]
      const held = (Math.min(step, longestStep) + Math.min(steps[n + 1]!, longestStep)) / 2
      const shown = logPart(c * Math.min(z[n]!, c + 1.5) - (c * c) / 2)
      sum += held * (shown / alikeOver + noise.going)
      if (sum > best.total) best = { total: sum, from: start, to: n }
    }
  }
  return best
}
