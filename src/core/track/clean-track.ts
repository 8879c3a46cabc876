import { cleanNotes } from './clean-notes.ts'
import { type CleanSettings, checkCleanSettings } from './clean-settings.ts'
import type { CleanedTrack, Drive, TrackBreak } from './cleaned-track.ts'
import { breakAtDrives, drivenParts, type FixRange } from './driven-parts.ts'
import { driven, markStanding, standing, stopsOf } from './find-stops.ts'
import { type OrderedFixes, orderFixes, type Rejection, rejections } from './order-fixes.ts'
import type { PlanarTrack } from './planar-track.ts'
import { rejectSpikes } from './reject-spikes.ts'
import { smoothWalk } from './smooth-walk.ts'
import { errorOfFixes, type TrackFixes } from './track-fixes.ts'

/** A car changes its speed this much more than a walker. */
const drivenAcceleration = 40

/**
 * Cleans a recorded track: fixes out of order and spikes left out with their reason, gaps and jumps kept as breaks, drives and stops
 * found, the rest smoothed with an error for every fix. Fixes more often than one a second count together as one a second,
 * for their errors are not independent.
 *
 * CRS     planar metres; time in seconds since 1970 UTC.
 * Cost    linear, about 0.5 microseconds a fix; 150 bytes a fix while it works.
 * Source  docs/methods/track.md
 * Faults  SurveyError('setting-out-of-range').
 */
export function cleanTrack(track: TrackFixes, settings: CleanSettings): CleanedTrack {
  checkCleanSettings(settings)
  const count = track.xy.length >> 1
  const rejectedAs = new Uint8Array(count)
  const error = errorOfFixes(track, settings)
  const inOrder = orderFixes(track, settings.maxGapS, rejectedAs)
  const drives = drivenParts(track, inOrder, settings.drivenMS)
  const broken = breakAtDrives(inOrder, drives)
  const drivenFix = new Uint8Array(inOrder.fix.length)
  for (const { from, to } of drives) drivenFix.fill(1, from, to + 1)
  const quickM = error.map((value) => value * Math.sqrt(settings.quickShare))
  const ordered = rejectSpikes(
    track,
    broken,
    { fastestMS: settings.fastestMS, quickM, driven: drivenFix },
    rejectedAs,
  )
  const isDriven = new Uint8Array(count)
  for (let k = 0; k < drivenFix.length; k++) isDriven[inOrder.fix[k]!] = drivenFix[k]!
  const smoothed = smoothPieces(track, ordered, error, isDriven, settings)
  return {
    ...smoothed,
    ...accountOf(track, ordered, smoothed, drivesOf(track, inOrder, drives), rejectedAs, settings),
  }
}

type Smoothed = Pick<
  CleanedTrack,
  'epsg' | 'xy' | 'time' | 'segmentStart' | 'fix' | 'errorM' | 'speedMS' | 'headingRad' | 'state'
>

function smoothPieces(
  track: TrackFixes,
  { fix, pieceStart }: OrderedFixes,
  error: Float64Array,
  isDriven: Uint8Array,
  settings: CleanSettings,
): Smoothed {
  const n = fix.length
  const xy = new Float64Array(2 * n)
  const errorM = new Float64Array(n)
  const time = track.time === null ? null : new Float64Array(n)
  const state = new Uint8Array(n)
  for (let k = 0; k < n; k++) {
    const i = fix[k]!
    xy[2 * k] = track.xy[2 * i]!
    xy[2 * k + 1] = track.xy[2 * i + 1]!
    errorM[k] = error[i]!
    if (time !== null) time[k] = track.time![i]!
    if (isDriven[i] === 1) state[k] = driven
  }
  const segmentStart = Uint32Array.from(pieceStart)
  const plain = { epsg: track.epsg, xy, time, segmentStart, fix, errorM, state }
  if (time === null) return { ...plain, speedMS: null, headingRad: null }
  const speedMS = new Float64Array(n)
  const headingRad = new Float64Array(n)
  for (let p = 0; p < pieceStart.length; p++) {
    const [from, end] = [pieceStart[p]!, pieceStart[p + 1] ?? n]
    smoothOne({ xy, time, errorM, speedMS, headingRad, state }, from, end, settings)
    if (state[from] !== driven) markStanding({ xy, time }, from, end, settings, state)
  }
  return { ...plain, speedMS, headingRad }
}

function smoothOne(
  all: {
    xy: Float64Array
    time: Float64Array
    errorM: Float64Array
    speedMS: Float64Array
    headingRad: Float64Array
    state: Uint8Array
  },
  from: number,
  end: number,
  { quickShare, accelerationM2S3, fastestMS }: CleanSettings,
): void {
  const time = all.time.subarray(from, end)
  const every = end - from > 1 ? (time.at(-1)! - time[0]!) / (end - from - 1) : 1
  // A share of the variance, and of several fixes within a second each weighs the less.
  const quick = Math.sqrt(quickShare * Math.max(1, 1 / every))
  const errorM = all.errorM.slice(from, end)
  const model =
    all.state[from] === driven
      ? { accelerationM2S3: accelerationM2S3 * drivenAcceleration, firstSpeedMS: 20 }
      : { accelerationM2S3, firstSpeedMS: fastestMS / 2 }
  const piece = smoothWalk(
    { time, xy: all.xy.slice(2 * from, 2 * end), errorM: errorM.map((value) => value * quick) },
    model,
  )
  all.xy.set(piece.xy, 2 * from)
  for (let k = 0; k < end - from; k++) {
    const [u, v] = [piece.velocity[2 * k]!, piece.velocity[2 * k + 1]!]
    const alone = end - from === 1
    all.speedMS[from + k] = alone ? Number.NaN : Math.hypot(u, v)
    all.headingRad[from + k] =
      alone || (u === 0 && v === 0) ? Number.NaN : (Math.atan2(u, v) + 2 * Math.PI) % (2 * Math.PI)
    all.errorM[from + k] = Math.sqrt((1 - quickShare) * errorM[k]! ** 2 + piece.errorM[k]! ** 2)
  }
}

function drivesOf({ xy, time }: PlanarTrack, { fix }: OrderedFixes, drives: readonly FixRange[]): Drive[] {
  return drives.map(({ from, to }) => {
    let metres = 0
    for (let k = from; k < to; k++)
      metres += Math.hypot(
        xy[2 * fix[k + 1]!]! - xy[2 * fix[k]!]!,
        xy[2 * fix[k + 1]! + 1]! - xy[2 * fix[k]! + 1]!,
      )
    return { fromFix: fix[from]!, toFix: fix[to]!, start: time![fix[from]!]!, end: time![fix[to]!]!, metres }
  })
}

function accountOf(
  track: TrackFixes,
  { cause }: OrderedFixes,
  { xy, time, segmentStart, state }: Smoothed,
  drives: readonly Drive[],
  rejectedAs: Uint8Array,
  settings: CleanSettings,
): Omit<CleanedTrack, keyof Smoothed> {
  let [distanceM, walkingS, stoppedS] = [0, 0, 0]
  const breaks: TrackBreak[] = []
  for (let k = 1, next = 1; k < state.length; k++) {
    const metres = Math.hypot(xy[2 * k]! - xy[2 * k - 2]!, xy[2 * k + 1]! - xy[2 * k - 1]!)
    const seconds = time === null ? 0 : time[k]! - time[k - 1]!
    if (segmentStart[next] === k) {
      breaks.push({ at: k, cause: cause[next]!, metres, seconds: time === null ? null : seconds })
      next++
    } else if (state[k] === standing && state[k - 1] === standing) stoppedS += seconds
    else if (state[k] !== driven) {
      distanceM += metres
      walkingS += seconds
    }
  }
  const counts = rejections.map((reason, r) => [
    reason,
    rejectedAs.reduce((n, why) => n + (why === r + 1 ? 1 : 0), 0),
  ])
  const account = {
    rejectedAs,
    rejected: Object.fromEntries(counts) as Record<Rejection, number>,
    breaks,
    stops: time === null ? [] : stopsOf({ xy, time }, segmentStart, state),
    drives,
    distanceM,
    walkingS: time === null ? null : walkingS,
    stoppedS: time === null ? null : stoppedS,
  }
  return { ...account, notes: cleanNotes(track, account, settings) }
}
