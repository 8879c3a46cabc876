/** How often bare ground gives a candidate, as a function of its log odds. */
export interface FalseAlarmCurve {
  /** Log odds of the candidates on bare ground, greatest first; at most `keptOdds` of them. */
  readonly odds: Float64Array
  /** Bare ground that was looked at, millions of pixels of the whole image's size. */
  readonly area: number
  /** Where the fitted tail takes over from counting, and its mean excess. */
  readonly tailFrom: number
  readonly tailMean: number
  /** Candidates from `tailFrom` on. */
  readonly tailCount: number
}

const keptOdds = 2000
const tailShare = 60

/**
 * The rate of false alarms by what surrogates of the ground gave.
 *
 * Method  counted where enough were seen; beyond, the excesses over a high threshold are taken as exponential (the peaks-over-threshold
 *         method with shape 0: Davison and Smith 1990, JRSS B 52, 393 to 442), which is how sums of many small bits of evidence fall off.
 * @param leastOdds the least that a search gives at all: what is meant where it gave nothing
 */
export function falseAlarmCurve(odds: readonly number[], area: number, leastOdds = -8): FalseAlarmCurve {
  const sorted = Float64Array.from(odds).sort().reverse().slice(0, keptOdds)
  const count = Math.min(tailShare, Math.floor(sorted.length / 4))
  if (count < 5) {
    // Ground that gives next to nothing: one more than was seen, at the place of the best.
    return {
      odds: sorted,
      area,
      tailFrom: sorted[0] ?? leastOdds,
      tailMean: 1,
      tailCount: sorted.length > 0 ? 1 : 0,
    }
  }
  const tailFrom = sorted[count]!
  let excess = 0
  for (let i = 0; i < count; i++) excess += sorted[i]! - tailFrom
  return { odds: sorted, area, tailFrom, tailMean: Math.max(1e-3, excess / count), tailCount: count }
}

/** Nothing rarer than this share of one in all the bare ground that was looked at is claimed: the tail is fitted, not seen, and not trusted for ever. */
const rarest = 1e-4

/** Candidates of these log odds or more that bare ground gives, a million pixels. */
export function falseAlarmsPerMpx(curve: FalseAlarmCurve, odds: number): number {
  const { tailFrom, tailMean, tailCount, area } = curve
  if (odds > tailFrom) {
    return Math.max(rarest, Math.max(0.5, tailCount) * Math.exp((tailFrom - odds) / tailMean)) / area
  }
  let low = 0
  let high = curve.odds.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (curve.odds[middle]! >= odds) low = middle + 1
    else high = middle
  }
  return Math.max(0.5, tailCount, low) / area
}
