import { placeAtTime } from './place-at-time.ts'
import type { PlanarTrack } from './planar-track.ts'
import type { Spot } from './question-spots.ts'

/** A photograph or a waypoint: when, and perhaps where, something was recorded. */
export interface Moment {
  /** Seconds since 1970-01-01 UTC by its own clock, as if its zone were UTC where `zoneS` is null; null where not told. */
  readonly time: number | null
  /** Seconds that its clock is ahead of UTC by its zone: 3600 for +01:00; 0 where `time` is UTC; null where the zone is not told. */
  readonly zoneS: number | null
  /** Its own place in the grid, metres; null where not told. */
  readonly place: { readonly x: number; readonly y: number } | null
}

export interface MatchSettings {
  /** Seconds to add to the clock of the moments, beyond the zone. */
  readonly clockS: number
  /** Zones that are tried, seconds ahead of UTC, where a moment tells none. */
  readonly zonesS: readonly number[]
  /** Farther off in time, seconds, or in place, metres, nothing is matched. */
  readonly withinS: number
  readonly withinM: number
}

/** Our own choices: a photograph is taken within ten minutes of recording its findspot, and within 15 m of it. */
export const defaultMatching: MatchSettings = { clockS: 0, zonesS: [0, 3600], withinS: 600, withinM: 15 }

/** What one moment was matched to. */
export interface Match {
  /** Place of the spot in its list; null where none is near enough, or where it cannot be told which. */
  readonly spot: number | null
  /** Spots that fit nearly as well, the likeliest first, `spot` itself among them. */
  readonly candidates: readonly number[]
  /** Where the walker was at that time, by the tracks; null where none tells. */
  readonly trackPlace: { readonly x: number; readonly y: number } | null
  /** The time in UTC that was used, and the zone; null where none fits. */
  readonly time: number | null
  readonly zoneS: number | null
  readonly status: 'matched' | 'ambiguous' | 'unmatched' | 'zone-unclear'
  /** Why, in one sentence. */
  readonly reason: string
}

/** One match is clearly better than the next where its misfit is less than this share of the other's (our own choice). */
const clearly = 0.5

/**
 * Matches photographs or waypoints to findspots, by their own place, by their time, and by where the tracks say the walker was then. Where the zone
 * is not told, the zones that put the moment inside a track are tried; more than one that fits is said, not chosen between.
 *
 * Misfit  of a spot: the larger of time apart over `withinS` and distance over `withinM`, as far as each is known; 1 or less fits.
 */
export function matchMoments(
  moments: readonly Moment[],
  spots: readonly Spot[],
  tracks: readonly PlanarTrack[],
  settings: MatchSettings = defaultMatching,
): Match[] {
  return moments.map((moment) => {
    const readings = readingsOf(moment, spots, tracks, settings)
    const fits = readings.map((reading) => bestSpot(moment, reading, spots, settings))
    const fitting = fits.filter(({ candidates }) => candidates.length > 0)
    if (readings.length > 1 && new Set(fitting.map(({ candidates }) => candidates[0])).size > 1)
      return {
        ...fitting[0]!,
        spot: null,
        candidates: [...new Set(fitting.flatMap(({ candidates }) => candidates))],
        time: null,
        zoneS: null,
        status: 'zone-unclear',
        reason: 'Its time zone is not told, and different zones lead to different findspots.',
      }
    return fitting[0] ?? fits[0]!
  })
}

interface Reading {
  readonly time: number | null
  readonly zoneS: number | null
  readonly trackPlace: { readonly x: number; readonly y: number } | null
}

/** The ways a moment's time may be read: one by zone; where none is told, those that fall within a track, or near the time of a spot. */
function readingsOf(
  { time, zoneS }: Moment,
  spots: readonly Spot[],
  tracks: readonly PlanarTrack[],
  { clockS, zonesS, withinS }: MatchSettings,
): Reading[] {
  if (time === null) return [{ time: null, zoneS: null, trackPlace: null }]
  const read = (zone: number): Reading => {
    const utc = time + clockS - zone
    return { time: utc, zoneS: zone, trackPlace: placeAtTime(tracks, utc) }
  }
  if (zoneS !== null) return [read(zoneS)]
  const all = zonesS.map(read)
  const inside = all.filter(
    (reading) =>
      reading.trackPlace !== null ||
      spots.some((spot) => spot.time !== null && Math.abs(spot.time - reading.time!) <= withinS),
  )
  return inside.length > 0 ? inside : [{ time: null, zoneS: null, trackPlace: null }]
}

function bestSpot(
  moment: Moment,
  reading: Reading,
  spots: readonly Spot[],
  { withinS, withinM }: MatchSettings,
): Match {
  const place = moment.place ?? reading.trackPlace
  const misfits: { spot: number; misfit: number }[] = []
  for (const [spot, { x, y, time }] of spots.entries()) {
    const apart = place === null ? null : Math.hypot(x - place.x, y - place.y) / withinM
    const late = time === null || reading.time === null ? null : Math.abs(time - reading.time) / withinS
    if (apart === null && late === null) continue
    const misfit = Math.max(apart ?? 0, late ?? 0)
    if (misfit <= 1) misfits.push({ spot, misfit })
  }
  misfits.sort((a, b) => a.misfit - b.misfit)
  const [best, second] = misfits
  if (best === undefined)
    return {
      ...reading,
      spot: null,
      candidates: [],
      status: 'unmatched',
      reason:
        place === null && reading.time === null
          ? 'It tells neither a place nor a time that can be used.'
          : `No findspot lies within ${withinM} m and ${withinS} s of it.`,
    }
  const rivals = misfits.filter(({ misfit }) => best.misfit > clearly * misfit)
  const candidates = (rivals.length > 1 ? rivals : [best]).map(({ spot }) => spot)
  if (second !== undefined && rivals.length > 1)
    return {
      ...reading,
      spot: null,
      candidates,
      status: 'ambiguous',
      reason: `${candidates.length} findspots fit about as well: choose one.`,
    }
  const by =
    moment.place !== null
      ? 'by its own place'
      : place !== null
        ? 'by where the walker was then'
        : 'by its time'
  return { ...reading, spot: best.spot, candidates, status: 'matched', reason: `Matched ${by}.` }
}
