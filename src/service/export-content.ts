import { type ExportFormat, type ExportWhat, usualNameLength } from '#contract'
import type { FindRecord } from '#core/finds'
import type { Polygon } from '#core/geometry'
import type { NameLimits } from '#core/lanes'
import type { RecordedArea, RecordedFind, RecordedFindspot, RecordedTrack } from '#core/record'
import type { StoredFind, StoredFindspot, SurveyFile } from '#store'
import { markOutlines, markPoints, targetPoints } from './marks/mark-export.ts'
import { laneTracks, planTargets, planToExport } from './plans/plan-export.ts'

/** What a file is written from; every position on WGS84. */
export interface ExportContent {
  readonly areas: readonly RecordedArea[]
  readonly tracks: readonly RecordedTrack[]
  readonly findspots: readonly RecordedFindspot[]
  /** Planned lines that GPX holds once more, as trk. */
  readonly plannedTracks?: readonly RecordedTrack[]
}

/** Which plan's lanes, and what a handheld can hold of names. */
export interface ExportWishes {
  readonly plan?: number
  readonly names?: NameLimits
}

const wgs84 = 4326

/** Gaps as areas named by their place in the order of size, largest first. Polygons on WGS84. */
export function gapAreas(
  gaps: readonly { readonly areaM2: number; readonly polygon: Polygon }[],
): RecordedArea[] {
  return gaps.map(({ areaM2, polygon }, i) => ({
    epsg: wgs84,
    name: `Gap ${i + 1}`,
    polygons: [polygon],
    attributes: { area_m2: areaM2.toFixed(1) },
  }))
}

function recordedFind(find: StoredFind): RecordedFind {
  const { number, object, material, period, count, weightG, depthM } = find
  return { number, object, material, period, count, weightG, depthM }
}

/** A findspot once for each find at it, or once without: files hold one find a point. */
function findspotRows(findspot: StoredFindspot, withFindsOnly: boolean): RecordedFindspot[] {
  const { name, lon: x, lat: y, accuracyM, elevation, time, note, attributes, finds } = findspot
  const common = { epsg: wgs84, name, x, y, accuracyM, elevation, time, note, attributes }
  if (finds.length === 0) return withFindsOnly ? [] : [{ ...common, find: null }]
  return finds.map((find) => ({ ...common, find: recordedFind(find) }))
}

/** Finds as points: what a handheld or a globe shows of them, with the years and how sure they are among the other values. */
function findPoints(survey: SurveyFile, format: ExportFormat): RecordedFindspot[] {
  const records = new Map(survey.catalogue.all().map(({ id, record }) => [id, record]))
  return survey.findspots().flatMap((findspot) =>
    findspotRows(findspot, true).map((row, i) => {
      const record = records.get(findspot.finds[i]!.id)
      if (record === undefined) return row
      // A globe shows a placemark by its name; in GPX the writer sees to that, and the reader takes it back.
      const name = format === 'kml' ? (row.name ?? row.find?.number ?? null) : row.name
      const attributes = { ...row.attributes, ...besides(record) }
      return { ...row, name, note: record.notes ?? row.note, attributes }
    }),
  )
}

function besides({ fromYear, toYear, certainty, description }: FindRecord): Record<string, string> {
  return {
    ...(fromYear === null ? {} : { from_year: String(fromYear) }),
    ...(toYear === null ? {} : { to_year: String(toYear) }),
    ...(certainty === null ? {} : { certainty }),
    ...(description === null ? {} : { find_description: description }),
  }
}

/** The part of a survey that was asked for. Cost: all of it in memory at once. */
export function exportContent(
  survey: SurveyFile,
  what: ExportWhat,
  format: ExportFormat,
  { plan, names }: ExportWishes = {},
): ExportContent {
  const limits = names ?? { length: usualNameLength, ascii: false }
  const nothing: ExportContent = { areas: [], tracks: [], findspots: [] }
  switch (what) {
    case 'areas':
      return {
        ...nothing,
        areas: survey.areas().map(({ name, kind, polygons, attributes }) => ({
          epsg: wgs84,
          name,
          polygons,
          attributes: kind === 'search' ? attributes : { ...attributes, kind },
        })),
      }
    case 'gaps':
      return { ...nothing, areas: gapAreas(survey.gaps()) }
    case 'marks':
      return format === 'kml' || format === 'geojson'
        ? { ...nothing, ...markOutlines(survey) }
        : { ...nothing, findspots: markPoints(survey) }
    case 'targets':
      return { ...nothing, findspots: names ? planTargets(survey, names) : targetPoints(survey) }
    case 'lanes': {
      const { lanes, walks } = laneTracks(survey, planToExport(survey, plan), limits)
      return { ...nothing, tracks: lanes, ...(format === 'gpx' ? { plannedTracks: walks } : {}) }
    }
    case 'tracks':
      return { ...nothing, tracks: survey.tracks().map(({ id }) => survey.track(id)) }
    case 'findspots':
      return {
        ...nothing,
        findspots: survey.findspots().flatMap((findspot) => findspotRows(findspot, false)),
      }
    case 'finds':
      return { ...nothing, findspots: findPoints(survey, format) }
  }
}
