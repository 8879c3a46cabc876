import type { LanePlan } from './lane-plan.ts'

/** One walker's share of a plan: lanes `from` up to, not including, `to`, in the order of the walk. */
export interface LaneShare {
  readonly from: number
  readonly to: number
  /** Metres of lanes. */
  readonly lengthM: number
  /** Metres walked between them, and how much of that lies off the search area. */
  readonly wayM: number
  readonly outsideM: number
  /** From lane to lane. */
  readonly turns: number
}

/**
 * Shares a walk out among walkers: each gets lanes that follow on one another, cut at the ends of lanes nearest to equal metres of lanes, so that no
 * share differs from an equal one by more than a lane. With more walkers than lanes some get none.
 *
 * Faults  RangeError unless `walkers` is a whole number from 1 to 1000.
 */
export function shareLanes(
  plan: Pick<LanePlan, 'laneM' | 'wayM' | 'outsideM'>,
  walkers: number,
): LaneShare[] {
  if (!Number.isInteger(walkers) || walkers < 1 || walkers > 1000)
    throw new RangeError(`walkers must be a whole number from 1 to 1000, got ${walkers}`)
  const { laneM, wayM, outsideM } = plan
  const lanes = laneM.length
  // Metres of lanes before each lane is begun.
  const before = new Float64Array(lanes + 1)
  for (let i = 0; i < lanes; i++) before[i + 1] = before[i]! + laneM[i]!
  const shares: LaneShare[] = []
  let from = 0
  for (let w = 1; w <= walkers; w++) {
    const wanted = (before[lanes]! * w) / walkers
    let to = from
    while (to < lanes && (w === walkers || before[to + 1]! - wanted <= wanted - before[to]!)) to++
    let [lengthM, ways, outside] = [0, 0, 0]
    for (let i = from; i < to; i++) {
      lengthM += laneM[i]!
      if (i + 1 < to) ways += wayM[i]!
      if (i + 1 < to) outside += outsideM[i]!
    }
    shares.push({ from, to, lengthM, wayM: ways, outsideM: outside, turns: Math.max(0, to - from - 1) })
    from = to
  }
  return shares
}
