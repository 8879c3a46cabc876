/** Walking, standing still, or driven: the state of a cleaned fix. */
export const walking = 0
export const standing = 1
export const driven = 2

/** A stay at one spot: a find dug, a word with someone, a rest. */
export interface Stop {
  /** Cleaned fixes it began and ended with. */
  readonly from: number
  readonly to: number
  /** Seconds since 1970-01-01 UTC. */
  readonly start: number
  readonly end: number
  /** Mean place of its fixes. */
  readonly x: number
  readonly y: number
}

/**
 * Marks the fixes of one piece, `from` up to `end`, at which the walker stood: those inside a stretch of `stopS` or more in which
 * no fix lies farther than `stopM` from the first. Slow drift of the receiver over a long stop does not end it.
 * Cost: one pass; where one stands, the fixes of `stopS` for each fix.
 */
export function markStanding(
  { xy, time }: { readonly xy: Float64Array; readonly time: Float64Array },
  from: number,
  end: number,
  { stopS, stopM }: { readonly stopS: number; readonly stopM: number },
  state: Uint8Array,
): void {
  const squared = stopM * stopM
  const isNear = (i: number, j: number): boolean =>
    (xy[2 * j]! - xy[2 * i]!) ** 2 + (xy[2 * j + 1]! - xy[2 * i + 1]!) ** 2 <= squared
  for (let i = from, j = from, marked = from; i < end; i++) {
    while (j < end && time[j]! - time[i]! < stopS) j++
    if (j === end) return
    let k = j
    while (k > i && isNear(i, k)) k--
    if (k > i) continue
    for (let m = Math.max(i, marked); m <= j; m++) state[m] = standing
    marked = j + 1
  }
}

/** The stops among marked fixes, in order; a stop never crosses the beginning of a piece. */
export function stopsOf(
  { xy, time }: { readonly xy: Float64Array; readonly time: Float64Array },
  segmentStart: ArrayLike<number>,
  state: Uint8Array,
): Stop[] {
  const stops: Stop[] = []
  for (let p = 0; p < segmentStart.length; p++) {
    const end = segmentStart[p + 1] ?? state.length
    for (let i = segmentStart[p]!; i < end; i++) {
      if (state[i] !== standing) continue
      let to = i
      while (to + 1 < end && state[to + 1] === standing) to++
      let [east, north] = [0, 0]
      for (let k = i; k <= to; k++) {
        east += xy[2 * k]! - xy[2 * i]!
        north += xy[2 * k + 1]! - xy[2 * i + 1]!
      }
      const count = to - i + 1
      stops.push({
        from: i,
        to,
        start: time[i]!,
        end: time[to]!,
        x: xy[2 * i]! + east / count,
        y: xy[2 * i + 1]! + north / count,
      })
      i = to
    }
  }
  return stops
}
