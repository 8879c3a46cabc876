import type { RingSettings } from '../candidate.ts'

/** Rings of a range of sizes, looked for at one level. */
export interface RingLevel {
  readonly level: number
  /** The level at which a proposal is looked at closely: one finer, where there is one. */
  readonly look: number
  /** Radii tried, pixels of the level. */
  readonly radii: readonly number[]
}

/** Diameter of the smallest ring that can be told from a dot, pixels. */
export const leastDiameterPx = 4

/** Radii of a level run up to this, pixels; the next level takes over at half of it. */
const largestRadius = 14
/** The finest level costs four times as much as the next, so only rings too small for that one are looked for there. */
const largestAtFullSize = 8
const radiusStep = 1

/**
 * Shares a range of diameters out over levels, so that every ring is some 14 to 28 pixels across at its own; the first two meet at 16 pixels of the image.
 * Faults: RangeError for a range that is empty, or begins below the 4 pixels that a ring needs to be told from a dot.
 */
export function ringPlan({ minDiameterPx, maxDiameterPx }: RingSettings): RingLevel[] {
  if (!(minDiameterPx >= leastDiameterPx && minDiameterPx <= maxDiameterPx && Number.isFinite(maxDiameterPx)))
    throw new RangeError(`no rings of ${minDiameterPx} to ${maxDiameterPx} pixels can be looked for`)
  const plan: RingLevel[] = []
  for (let level = 0; ; level++) {
    const scale = 2 ** level
    const smallest = level === 0 ? 0 : level === 1 ? largestAtFullSize / 2 : largestRadius / 2
    const largest = level === 0 ? largestAtFullSize : largestRadius
    const from = Math.max(minDiameterPx / 2 / scale, smallest)
    const to = Math.min(maxDiameterPx / 2 / scale, largest)
    if (to > from || (to === from && plan.length === 0 && maxDiameterPx / 2 / scale === to)) {
      const steps = Math.max(1, Math.round((to - from) / radiusStep))
      const radii = Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps)
      plan.push({ level, look: Math.max(0, level - 1), radii: from === to ? [from] : radii })
    }
    if (maxDiameterPx / 2 / scale <= largest) return plan
  }
}

export function deepestLevel(settings: RingSettings): number {
  return Math.max(...ringPlan(settings).map(({ level }) => level))
}
