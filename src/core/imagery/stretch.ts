/** Values from `low` to `high` become grey 0 to 255. */
export interface Stretch {
  readonly low: number
  readonly high: number
}

/** Percent cut off at either end unless another is asked for (common practice). */
const usualCut = 2

/**
 * The stretch that leaves `cutPercent` of the values at either end outside: percentiles with straight lines between the sorted values
 * (Hyndman and Fan 1996, American Statistician 50, definition 7). Only values whose alpha is above 0 count; with none, 0 to 1.
 *
 * Cost    sorts the values: n log n.
 * Faults  RangeError for a cut below 0, or of 50 and above.
 */
export function percentileStretch(
  values: ArrayLike<number>,
  alpha: Uint8Array,
  cutPercent: number = usualCut,
): Stretch {
  if (!(cutPercent >= 0 && cutPercent < 50))
    throw new RangeError(`between 0 and 50 percent can be cut off at either end, got ${cutPercent}`)
  const sorted = new Float64Array(alpha.length)
  let n = 0
  for (let i = 0; i < alpha.length; i++) if (alpha[i] !== 0) sorted[n++] = values[i]!
  if (n === 0) return { low: 0, high: 1 }
  const kept = sorted.subarray(0, n).sort()
  return { low: percentile(kept, cutPercent), high: percentile(kept, 100 - cutPercent) }
}

function percentile(sorted: Float64Array, percent: number): number {
  const at = ((sorted.length - 1) * percent) / 100
  const below = Math.floor(at)
  const a = sorted[below]!
  const b = sorted[Math.min(below + 1, sorted.length - 1)]!
  return a + (at - below) * (b - a)
}

/** A stretch as a straight line: grey is `gain * value + offset`. Where all values were one, that value is the middle grey. */
export function lineOf({ low, high }: Stretch): { readonly gain: number; readonly offset: number } {
  const gain = high > low ? 255 / (high - low) : 0
  return { gain, offset: gain > 0 ? -low * gain : 127.5 }
}
