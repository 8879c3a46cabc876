import type { Chain } from './line-chains.ts'
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

export function tracedNoise(
  traced: readonly { readonly points: LinePoints; readonly chains: readonly Chain[] }[],
): TracedNoise {
  const values = traced.flatMap(({ points, chains }) =>
    chains.flatMap((chain) => chain.map((i) => points[i * pointStride + at.local]!)),
  )
  const count = Math.max(1, values.length)
  const mean = values.reduce((sum, v) => sum + v, 0) / count
  const spread = Math.max(leastSpread, Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / count))
  return { mean, spread, going: 1 / meanExcess(traced) }
}

/** Chains of bare ground end as if by chance at every pixel: so their lengths fall off exponentially. Taken over the longer half. */
function meanExcess(traced: Parameters<typeof tracedNoise>[0]): number {
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
  return Math.hypot(
    points[a * pointStride + at.x]! - points[b * pointStride + at.x]!,
    points[a * pointStride + at.y]! - points[b * pointStride + at.y]!,
  )
}

/** The evidence that costs to pass `length` pixels without a line. */
export function gapCost(length: number): number {
  return gapCostAPixel * length
}

/** Evidence of the best part of a chain, over all strengths of a line. */
export function lineEvidence(points: LinePoints, chain: Chain, noise: TracedNoise): LineEvidence {
  const steps = chain.map((i, n) => (n === 0 ? 0 : stepLength(points, chain[n - 1]!, i)))
  const held = steps.map(
    (step, n) => (Math.min(step, longestStep) + Math.min(steps[n + 1] ?? 0, longestStep)) / 2 / alikeOver,
  )
  const z = chain.map((i) => (points[i * pointStride + at.local]! - noise.mean) / noise.spread)
  let best: LineEvidence = { total: 0, from: 0, to: -1 }
  for (const c of tried) {
    // The part with the greatest sum (Kadane's pass).
    let [sum, start] = [0, 0]
    for (let n = 0; n < chain.length; n++) {
      if (steps[n]! > longestStep) sum -= gapCost(steps[n]! - longestStep)
      if (sum <= 0) [sum, start] = [0, n]
      const seen = Math.min(z[n]!, c + 1.5)
      sum += held[n]! * (Math.log(0.25 + 0.75 * Math.exp(c * seen - (c * c) / 2)) + noise.going * alikeOver)
      if (sum > best.total) best = { total: sum, from: start, to: n }
    }
  }
  return best
}
