import type { CleanSettings } from './clean-settings.ts'
import type { CleanedTrack, TrackBreak } from './cleaned-track.ts'
import type { Rejection } from './order-fixes.ts'
import type { TrackFixes } from './track-fixes.ts'

const rejectionWords: Readonly<Record<Rejection, readonly [string, string]>> = {
  'no-place': ['fix has no place', 'fixes have no place'],
  'no-time': ['fix has no time', 'fixes have no time'],
  'same-time': ['fix repeats the time of the one before', 'fixes repeat the time of the one before'],
  'clock-back': ['fix has a clock that slipped', 'fixes have a clock that slipped'],
  spike: ['fix lies farther off than a walker can get', 'fixes lie farther off than a walker can get'],
}

type Account = Pick<CleanedTrack, 'rejected' | 'breaks' | 'drives'>

/** What was left out of a cleaned track and what was assumed, one sentence each. */
export function cleanNotes(
  { time, accuracyM, hdop, xy }: TrackFixes,
  { rejected, breaks, drives }: Account,
  settings: CleanSettings,
): string[] {
  const notes: string[] = []
  for (const [reason, [one, more]] of Object.entries(rejectionWords)) {
    const count = rejected[reason as Rejection]
    if (count > 0)
      notes.push(`${count} ${count === 1 ? one : more} and ${count === 1 ? 'was' : 'were'} left out.`)
  }
  const jumps = breaks.filter(({ cause }) => cause === 'jump')
  if (jumps.length > 0)
    notes.push(`The track jumps ${timesOf(jumps)}, by ${farthest(jumps)} m at most; it was broken there.`)
  const backwards = breaks.filter(({ cause }) => cause === 'clock-back')
  if (backwards.length > 0)
    notes.push(`The clock was set back ${timesOf(backwards)}; the track was broken there.`)
  const gaps = breaks.filter(({ cause }) => cause === 'gap')
  if (gaps.length > 0)
    notes.push(
      `Nothing was recorded ${timesOf(gaps)} for more than ${settings.maxGapS} s (${minutes(gaps)} min together); nothing is assumed of the ground between.`,
    )
  if (drives.length > 0)
    notes.push(
      `${drives.length === 1 ? 'A part looks' : `${drives.length} parts look`} driven, not walked (${(drives.reduce((sum, { metres }) => sum + metres, 0) / 1000).toFixed(1)} km): cut ${drives.length === 1 ? 'it' : 'them'} off?`,
    )
  if (time === null && xy.length > 0)
    notes.push(
      'The fixes carry no times: they were not smoothed, and speeds, stops and gaps in time are not known.',
    )
  if (toldShare(xy.length >> 1, accuracyM, hdop) < 1)
    notes.push(
      `Where the receiver told no accuracy, an error of ${settings.errorM} m along each axis was assumed.`,
    )
  return notes
}

function timesOf(list: readonly unknown[]): string {
  return list.length === 1 ? 'once' : `${list.length} times`
}

function farthest(breaks: readonly TrackBreak[]): string {
  return breaks.reduce((most, { metres }) => Math.max(most, metres), 0).toFixed(0)
}

function minutes(breaks: readonly TrackBreak[]): string {
  return (breaks.reduce((sum, { seconds }) => sum + (seconds ?? 0), 0) / 60).toFixed(0)
}

function toldShare(count: number, ...told: (Float64Array | null | undefined)[]): number {
  if (count === 0) return 1
  let fixes = 0
  for (let i = 0; i < count; i++) if (told.some((values) => (values?.[i] ?? 0) > 0)) fixes++
  return fixes / count
}
