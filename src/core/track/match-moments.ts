import { placeAtTime } from './place-at-time.ts'
import type { PlanarTrack } from './planar-track.ts'
import type { Spot } from './question-spots.ts'

/** A photograph or a waypoint: when, and perhaps where, something was recorded. */
export interface Moment {
  /** Seconds since 1970-01-01 UTC by its own clock, as if its zone were UTC where `zoneS` is null; null where not told. */
  readonly time: number | null
  /** Seconds that its clock is ahead of UTC by its zone: 3600 for +01:00; 0 where `time` is UTC; null where the zone is not told. */
  readonly zoneS: number | null
  /** Its own place in the grid, metres, and the radius that holds it with some 68 % where told; null where not told. */
  readonly place: { readonly x: number; readonly y: number; readonly accuracyM?: number | null } | null
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
  readonly status: 'matched' | 'ambiguous' | 'unmatched' | 'zone-unclear' | 'place-only'
  /** How far the likeliest candidate lies from its own place, or else from where the walker was, metres; null where not known. */
  readonly offM: number | null
  /** Its time less that of the likeliest candidate, seconds; null where not known. */
  readonly offS: number | null
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

interface Fit {
  readonly spot: number
  readonly misfit: number
  readonly offM: number | null
  readonly offS: number | null
}

type Place = NonNullable<Moment['place']>

/** How each spot fits a place and a time, the best first; those of which neither is known are left out. */
function fitsOf(
  place: Place | null,
  time: number | null,
  spots: readonly Spot[],
  { withinS, withinM }: MatchSettings,
): Fit[] {
  const reach = Math.max(withinM, place?.accuracyM ?? 0)
  const fits: Fit[] = []
  for (const [spot, at] of spots.entries()) {
    const offM = place === null ? null : Math.hypot(at.x - place.x, at.y - place.y)
    const offS = at.time === null || time === null ? null : time - at.time
    if (offM === null && offS === null) continue
    const misfit = Math.max((offM ?? 0) / reach, Math.abs(offS ?? 0) / withinS)
    if (misfit <= 1) fits.push({ spot, misfit, offM, offS })
  }
  return fits.sort((a, b) => a.misfit - b.misfit)
}

function bestSpot(moment: Moment, reading: Reading, spots: readonly Spot[], settings: MatchSettings): Match {
  const place = moment.place ?? reading.trackPlace
  const fits = fitsOf(place, reading.time, spots, settings)
  const [best] = fits
  if (best === undefined) return withoutFit(moment, reading, spots, settings)
  const rivals = fits.filter(({ misfit }) => best.misfit > clearly * misfit)
  const { offM, offS } = best
  const candidates = (rivals.length > 1 ? rivals : [best]).map(({ spot }) => spot)
  if (rivals.length > 1) {
    const reason = `${candidates.length} findspots fit about as well: choose one.`
    return { ...reading, spot: null, candidates, offM, offS, status: 'ambiguous', reason }
  }
  const by =
    moment.place !== null
      ? 'by its own place'
      : place !== null
        ? 'by where the walker was then'
        : 'by its time'
  const timeless = moment.time !== null && reading.time === null
  const but = timeless ? '; in no zone that is tried does its time fall in a walk or near a find' : ''
  return {
    ...reading,
    spot: best.spot,
    candidates,
    offM,
    offS,
    status: 'matched',
    reason: `Matched ${by}${but}.`,
  }
}

/** Where nothing fits; a place that fits by itself is named, for a clock may be wrong, or somebody came back. */
function withoutFit(
  moment: Moment,
  reading: Reading,
  spots: readonly Spot[],
  settings: MatchSettings,
): Match {
  const [near] = fitsOf(moment.place, null, spots, settings)
  if (near !== undefined && reading.time !== null) {
    const { spot, offM } = near
    const { time } = spots[spot]!
    return {
      ...reading,
      spot: null,
      candidates: [spot],
      offM,
      offS: time === null ? null : reading.time - time,
      status: 'place-only',
      reason: 'Its own place fits, its time does not: is a clock wrong, or did somebody come back?',
    }
  }
  const told = moment.place !== null || reading.trackPlace !== null || reading.time !== null
  return {
    ...reading,
    spot: null,
    candidates: [],
    offM: null,
    offS: null,
    status: 'unmatched',
    reason: told
      ? `No findspot lies within ${settings.withinM} m and ${Number((settings.withinS / 60).toFixed(1))} min of it.`
      : moment.time === null
        ? 'It tells neither a place nor a time.'
        : 'It tells no place, and in no zone that is tried does its time fall in a walk or near a find.',
  }
}

/** A zone, how many moments without one fit some spot when they are read in it, and by how many seconds they miss it, the median. */
export interface ZoneFit {
  readonly zoneS: number
  readonly fits: number
  readonly apartS: number | null
}

/** So many moments that fit tell a zone by how near they are to their spots (our own choice). */
const enoughMoments = 3
/** Times of one zone are clearly nearer than those of another at this share of the seconds (our own choice). */
const clearlyNearer = 0.25

/**
 * The zone that the clock of one camera was set to, by all its moments that tell none. `zoneS` is the zone that is better than each other: at least twice as
 * many moments fit a spot in it, or three or more and, by their median, at a quarter of the seconds or less. Null where there is none such.
 */
export function zoneOfMoments(
  moments: readonly Moment[],
  spots: readonly Spot[],
  tracks: readonly PlanarTrack[],
  settings: MatchSettings = defaultMatching,
): { readonly zoneS: number | null; readonly tried: readonly ZoneFit[] } {
  const without = moments.filter(({ time, zoneS }) => time !== null && zoneS === null)
  const tried = settings.zonesS.map((zoneS): ZoneFit => {
    const read = without.map((moment) => ({ ...moment, zoneS }))
    const fitting = matchMoments(read, spots, tracks, settings).filter(
      ({ status }) => status === 'matched' || status === 'ambiguous',
    )
    const apart = fitting.flatMap(({ offS }) => (offS === null ? [] : [Math.abs(offS)])).sort((a, b) => a - b)
    return { zoneS, fits: fitting.length, apartS: apart[apart.length >> 1] ?? null }
  })
  const better = (one: ZoneFit, other: ZoneFit): boolean =>
    other.fits <= clearly * one.fits ||
    (one.fits >= enoughMoments &&
      one.apartS !== null &&
      one.apartS <= clearlyNearer * (other.apartS ?? Number.POSITIVE_INFINITY))
  const best = tried.find(
    (one) => one.fits > 0 && tried.every((other) => other === one || better(one, other)),
  )
  return { zoneS: best?.zoneS ?? null, tried }
}
