import type { DrawnRing } from './features.ts'

interface Found {
  readonly x: number
  readonly y: number
  readonly diameter: number
}

/** How candidates, best first, stand against the rings that were drawn. */
export interface Judgement {
  /** Mean of the precision at each ring found, rings never found counting 0 (no interpolation). */
  readonly averagePrecision: number
  /** Greatest harmonic mean of precision and recall over all thresholds. */
  readonly bestF1: number
  /** Share of rings found before the second false alarm. */
  readonly recallAtOneFalse: number
  /** Shares of whole and of broken rings found among the best candidates at the place of `bestF1`. */
  readonly recallWhole: number
  readonly recallBroken: number
  /** For each candidate, the ring that it found, or -1. */
  readonly hits: readonly number[]
}

/** Within 0.2 diameters of the ring's centre and 0.2 of its radius. */
export function isHit({ x, y, diameter }: Found, ring: DrawnRing): boolean {
  const near = Math.hypot(ring.x - x, ring.y - y) <= 0.4 * ring.radius
  return near && Math.abs(diameter / 2 - ring.radius) <= 0.2 * ring.radius
}

/** One to one: a second candidate on a ring is a false alarm. */
export function judge(found: readonly Found[], rings: readonly DrawnRing[]): Judgement {
  const taken = new Set<number>()
  const hits = found.map((one) => {
    let best = -1
    let least = Infinity
    rings.forEach((ring, i) => {
      const off = Math.hypot(ring.x - one.x, ring.y - one.y)
      if (isHit(one, ring) && !taken.has(i) && off < least) [best, least] = [i, off]
    })
    if (best >= 0) taken.add(best)
    return best
  })
  let [right, precisions, bestF1, bestAt, recallAtOneFalse] = [0, 0, 0, 0, 0]
  hits.forEach((hit, i) => {
    if (hit >= 0) precisions += ++right / (i + 1)
    const f1 = (2 * right) / (i + 1 + rings.length)
    if (f1 > bestF1) [bestF1, bestAt] = [f1, i + 1]
    if (i + 1 - right <= 1) recallAtOneFalse = right / rings.length
  })
  const recall = (kept: (ring: DrawnRing) => boolean): number => {
    const wanted = rings.filter(kept).length
    return wanted === 0
      ? Number.NaN
      : hits.slice(0, bestAt).filter((hit) => hit >= 0 && kept(rings[hit]!)).length / wanted
  }
  return {
    averagePrecision: precisions / rings.length,
    bestF1,
    recallAtOneFalse,
    recallWhole: recall(({ missing }) => missing === 0),
    recallBroken: recall(({ missing }) => missing > 0),
    hits,
  }
}
