import { placeBetween } from './place-at-time.ts'
import type { PlanarTrack } from './planar-track.ts'

/** How one recording of a walk lies to another. */
export interface SameWalk {
  /** Whether both recorded the same walk: after the offset they keep within `apartM` of each other over most of the shorter. */
  readonly same: boolean
  /** Seconds to add to the second clock to make it agree with the first. */
  readonly offsetS: number
  /** Median distance between the two after the clock and a steady shift are taken out, metres. */
  readonly apartM: number
  /** Steady shift from the first to the second, metres east and north: large where one receiver lies far off. */
  readonly shift: { readonly east: number; readonly north: number }
  /** Share of the shorter recording in which the other was recorded too. */
  readonly overlap: number
}

export interface SameWalkOptions {
  /** A clock farther off than `clockS` is believed only of recordings this long, seconds: short straight walks are all alike. */
  readonly leastS: number
  /** Two recordings are of one walk when their median distance is below this, metres. */
  readonly withinM: number
  /** Clocks are tried this far apart either way, seconds, about each whole hour up to `hours`, and about equal beginnings. */
  readonly clockS: number
  readonly hours: number
}

/** Our own choices: receivers carried together are a few metres apart; clocks differ by seconds, or by a time zone. */
export const defaultSameWalk: SameWalkOptions = { leastS: 600, withinM: 5, clockS: 90, hours: 14 }

const samples = 150
const leastOverlap = 0.5

/**
 * Whether two tracks are one walk recorded twice, and the clock offset between them.
 *
 * Method  the second track is read at the times of some 150 fixes of the first, for every offset tried; the median distance, less
 *         the median shift, is least at the right one. Tried at steps of 3 s, then about the best down to 0.05 s.
 * Cost    some thousand offsets times 150 readings: about 0.1 s.
 */
export function sameWalk(
  first: PlanarTrack,
  second: PlanarTrack,
  { leastS, withinM, clockS, hours }: SameWalkOptions = defaultSameWalk,
): SameWalk | null {
  const a = timedFixes(first)
  const b = timedFixes(second)
  if (a.time.length < 2 || b.time.length < 2) return null
  const spanA = a.time.at(-1)! - a.time[0]!
  const spanB = b.time.at(-1)! - b.time[0]!
  const shorter = spanA <= spanB ? a : b
  const longer = spanA <= spanB ? b : a
  const sign = spanA <= spanB ? 1 : -1
  let best: Fit | null = null
  const attempt = (offset: number): void => {
    const fit = fitAt(shorter, longer, offset)
    if (fit !== null && (best === null || misfit(fit) < misfit(best))) best = fit
  }
  const begins = shorter.time[0]! - longer.time[0]!
  const centres = [begins, ...Array.from({ length: 2 * hours + 1 }, (_, h) => 3600 * (h - hours))]
  for (const centre of centres) for (let d = -clockS; d <= clockS; d += 3) attempt(centre + d)
  for (const step of [0.5, 0.05]) {
    const centre: number = (best as Fit | null)?.offset ?? 0
    for (let d = -7; d <= 7; d++) attempt(centre + d * step)
  }
  const found = best as Fit | null
  if (found === null) return null
  return {
    same:
      found.apartM <= withinM &&
      found.overlap >= leastOverlap &&
      (Math.abs(found.offset) <= clockS || Math.min(spanA, spanB) >= leastS),
    offsetS: sign * found.offset || 0,
    apartM: found.apartM,
    shift: { east: sign * found.east || 0, north: sign * found.north || 0 },
    overlap: found.overlap,
  }
}

interface Fit {
  /** Added to the clock of the longer. */
  readonly offset: number
  readonly apartM: number
  readonly east: number
  readonly north: number
  readonly overlap: number
}

/** On a straight walk at one speed every offset fits, with another shift: then the smallest is taken. */
const perSecondM = 1e-5

function misfit({ apartM, offset }: Fit): number {
  return apartM + perSecondM * Math.abs(offset)
}

/** The longer track read at times of the shorter, its clock moved on by `offset`. */
function fitAt(shorter: Timed, longer: Timed, offset: number): Fit | null {
  const [start, end] = [longer.time[0]! + offset, longer.time.at(-1)! + offset]
  const n = shorter.time.length
  const count = Math.min(samples, n)
  const east: number[] = []
  const north: number[] = []
  for (let s = 0; s < count; s++) {
    const i = Math.floor(((s + 0.5) * n) / count)
    const t = shorter.time[i]!
    if (t < start || t > end) continue
    const place = placeBetween(longer, t - offset)
    if (place === null) continue
    east.push(place[0] - shorter.xy[2 * i]!)
    north.push(place[1] - shorter.xy[2 * i + 1]!)
  }
  if (east.length < Math.max(2, leastOverlap * count)) return null
  const [shiftEast, shiftNorth] = [median(east), median(north)]
  const apartM = median(east.map((value, k) => Math.hypot(value - shiftEast, north[k]! - shiftNorth)))
  return { offset, apartM, east: shiftEast, north: shiftNorth, overlap: east.length / count }
}

interface Timed {
  readonly time: Float64Array
  readonly xy: Float64Array
}

/** The fixes that have a time and a place, in order of time. */
function timedFixes({ xy, time }: PlanarTrack): Timed {
  if (time === null) return { time: new Float64Array(0), xy: new Float64Array(0) }
  const kept = Array.from(time.keys()).filter(
    (i) => Number.isFinite(time[i]!) && Number.isFinite(xy[2 * i]!) && Number.isFinite(xy[2 * i + 1]!),
  )
  kept.sort((i, j) => time[i]! - time[j]!)
  return {
    time: Float64Array.from(kept, (i) => time[i]!),
    xy: Float64Array.from({ length: 2 * kept.length }, (_, k) => xy[2 * kept[k >> 1]! + (k & 1)]!),
  }
}

function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort()
  const half = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}

/** A track with its clock moved on by some seconds: a receiver that went slow, a time zone left out. */
export function withClockMoved<Track extends PlanarTrack>(track: Track, offsetS: number): Track {
  return track.time === null ? track : { ...track, time: track.time.map((t) => t + offsetS) }
}
