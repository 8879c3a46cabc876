import { readFile } from 'node:fs/promises'
import type {
  PhotographGoal,
  PhotographMatch,
  PhotographMatches,
  PhotographMatchWish,
  PhotographMoment,
} from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import {
  type Match,
  type MatchSettings,
  type Moment,
  matchMoments,
  type PlanarTrack,
  type Spot,
  zoneOfMoments,
} from '#core/track'
import { readExif } from '#formats/exif'
import { isoSeconds } from '#formats/time'
import type { StoredFindspot, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { projected } from '../projecting.ts'
import { isoTime, planarFindspot } from '../views.ts'
import { planarOf } from '../visit-cover.ts'

const secondsPerHour = 3600
/** No zone is farther from UTC: a track that lies farther from a local time than this is not asked. */
const farthestZoneS = 14 * secondsPerHour
/** Zones are whole quarters of an hour (UTC offsets now in use). */
const quarterS = 900

/** What a picture, or its first part, says of itself. Faults: those of `readExif`. */
export async function photographMoment(name: string, file: string): Promise<PhotographMoment> {
  const { takenLocal, zone, time, place, camera, faults } = await readExif(await readFile(file), name)
  return {
    name,
    sha256: null,
    takenLocal,
    zone,
    time,
    place,
    camera: camera?.slice(0, 300) ?? null,
    faults: faults.map(({ text }) => text),
  }
}

interface Spots {
  readonly spots: readonly Spot[]
  readonly goals: readonly (readonly PhotographGoal[])[]
}

/**
 * Matches photographs to the findspots of a survey, and through them to finds; nothing is changed. A zone that a camera does not tell is found from
 * all its photographs together, else for each.
 */
export function matchPhotographs(survey: SurveyFile, wish: PhotographMatchWish): PhotographMatches {
  const grid = surveyGrid(survey)
  const { photographs, zoneS, clockS, withinM, withinS } = wish
  const given = photographs.map((photograph) => momentOf(photograph, zoneS, grid))
  const { spots, goals } = spotsOf(survey, grid)
  const settings = { clockS, withinM, withinS, zonesS: zonesOf(survey) }
  const tracks = grid === null ? [] : tracksNear(survey, grid, given, settings)
  const { moments, notes } = withZones(photographs, given, spots, tracks, settings)
  const matches = matchMoments(moments, spots, tracks, settings)
  return {
    photographs: matches.map((match, i) => viewOf(survey, photographs[i]!, match, goals)),
    notes,
  }
}

const secondsOfZone = (zone: string): number => {
  const [hours, minutes] = zone.slice(1).split(':').map(Number)
  return (zone.startsWith('-') ? -1 : 1) * (hours! * secondsPerHour + minutes! * 60)
}

/** When and where a picture was taken. Where the satellites' clock is told and no zone, the zone is the quarter of an hour that brings both clocks nearest. */
function momentOf(
  { takenLocal, zone, time, place }: PhotographMoment,
  zoneS: number | null,
  grid: PlanarGrid | null,
): Moment {
  const local = takenLocal === null ? null : isoSeconds(`${takenLocal}Z`)
  const bySatellite =
    local === null || time === null ? null : quarterS * Math.round((local - time) / quarterS)
  const within = bySatellite !== null && Math.abs(bySatellite) <= farthestZoneS ? bySatellite : null
  const [x, y] =
    place === null || grid === null ? [] : projected(Float64Array.of(place.lon, place.lat), grid.forward)
  return {
    time: local ?? time,
    zoneS: local === null ? 0 : zone === null ? (within ?? zoneS) : secondsOfZone(zone),
    place: x === undefined || Number.isNaN(x) ? null : { x, y: y!, accuracyM: place?.accuracyM ?? null },
  }
}

function spotsOf(survey: SurveyFile, grid: PlanarGrid | null): Spots {
  const spots: Spot[] = []
  const goals: PhotographGoal[][] = []
  for (const findspot of grid === null ? [] : survey.findspots()) {
    const planar = planarFindspot(findspot, grid!)
    if (planar === null) continue
    spots.push({ x: planar[0], y: planar[1], time: findspot.time })
    goals.push(goalsOf(findspot))
  }
  return { spots, goals }
}

function goalsOf({ id, name, finds }: StoredFindspot): PhotographGoal[] {
  if (finds.length === 0)
    return [{ find: null, findspot: id, label: `new find at ${name ?? `findspot ${id}`}` }]
  return finds.map((find) => ({
    find: find.id,
    findspot: id,
    label: [find.number, find.object].filter(Boolean).join(', ') || `find ${find.id}`,
  }))
}

/** Zones that a clock here may be set to: UTC, that of the longitude, and summer time by it. */
function zonesOf(survey: SurveyFile): number[] {
  const lon = survey.findspots()[0]?.lon ?? 0
  const own = Math.round(lon / 15) * secondsPerHour
  return [...new Set([0, own, own + secondsPerHour])]
}

/** Walked tracks that were recorded about the time of some photograph, in any zone. */
function tracksNear(
  survey: SurveyFile,
  grid: PlanarGrid,
  moments: readonly Moment[],
  { clockS, withinS }: MatchSettings,
): PlanarTrack[] {
  const reach = farthestZoneS + withinS
  const times = moments.flatMap(({ time }) => (time === null ? [] : [time + clockS]))
  const offsets = new Map(survey.visits().map(({ id, clockOffsetS }) => [id, clockOffsetS]))
  return survey
    .tracks()
    .filter(
      ({ walked, start, end }) =>
        walked &&
        start !== null &&
        end !== null &&
        times.some((time) => time > start - reach && time < end + reach),
    )
    .map(({ id, visitId }) => planarOf(survey, grid, id, offsets.get(visitId ?? 0) ?? 0))
}

/** The moments with the zones found out camera by camera, and what was found. */
function withZones(
  photographs: readonly PhotographMoment[],
  given: readonly Moment[],
  spots: readonly Spot[],
  tracks: readonly PlanarTrack[],
  settings: MatchSettings,
): { readonly moments: readonly Moment[]; readonly notes: string[] } {
  const moments = [...given]
  const notes: string[] = []
  const cameras = new Map<string, number[]>()
  for (const [i, { time, zoneS }] of given.entries()) {
    if (time === null || zoneS !== null) continue
    const camera = photographs[i]!.camera ?? 'The camera'
    cameras.set(camera, [...(cameras.get(camera) ?? []), i])
  }
  for (const [camera, own] of cameras) {
    const { zoneS, tried } = zoneOfMoments(
      own.map((i) => given[i]!),
      spots,
      tracks,
      settings,
    )
    if (zoneS === null) {
      notes.push(
        `${camera} does not tell its time zone, and the photographs do not settle it: choose it, or set the clock by one of them.`,
      )
      continue
    }
    for (const i of own) moments[i] = { ...moments[i]!, zoneS }
    const fits = tried.find((each) => each.zoneS === zoneS)!.fits
    notes.push(
      `${camera} does not tell its time zone: UTC${zoneText(zoneS)} was taken, in which ${fits} of ${own.length} photographs fit findspots best.`,
    )
  }
  return { moments, notes }
}

/** +01:00, or nothing for UTC itself. */
function zoneText(zoneS: number): string {
  if (zoneS === 0) return ''
  const minutes = Math.abs(zoneS) / 60
  const two = (value: number): string => String(value).padStart(2, '0')
  return `${zoneS < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

function viewOf(
  survey: SurveyFile,
  { sha256 }: PhotographMoment,
  match: Match,
  goalsOfSpot: readonly (readonly PhotographGoal[])[],
): PhotographMatch {
  const goals = match.candidates.flatMap((spot) => goalsOfSpot[spot]!)
  const told = {
    goals,
    at: isoTime(match.time),
    zoneS: match.zoneS,
    offM: match.offM,
    offS: match.offS,
  }
  const already = sha256 === null ? [] : bearersOf(survey, sha256)
  if (already.length > 0)
    return { ...told, state: 'attached', reason: `It is a photograph of ${already.join(', ')} already.` }
  if (match.status !== 'matched')
    return { ...told, state: goals.length > 0 ? 'choose' : 'none', reason: match.reason }
  if (goals.length > 1)
    return { ...told, state: 'choose', reason: `${goals.length} finds share its findspot: choose one.` }
  return { ...told, state: 'matched', reason: match.reason }
}

/** Numbers of the finds that have this very picture. */
function bearersOf({ catalogue }: SurveyFile, sha256: string): string[] {
  const uuids = new Set(catalogue.photographsWith(sha256).map(({ findUuid }) => findUuid))
  if (uuids.size === 0) return []
  return catalogue
    .all()
    .filter(({ uuid }) => uuids.has(uuid))
    .map(({ record }) => record.number)
}
