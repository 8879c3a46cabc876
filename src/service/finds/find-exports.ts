import path from 'node:path'
import type { ExportReply, FindsExport, FindsFormat } from '#contract'
import { SurveyError } from '#core/faults'
import { type FindRecord, findFieldNames } from '#core/finds'
import { findsCsv, findsXlsx, ownHeadings, type PlaceOf } from '#formats/finds-table'
import { linkedFinds } from '#formats/linked-data'
import { findCatalogue } from '#report'
import { type CataloguedFind, findsGeoPackage, openSurveyFile, type SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { writeOut } from '../export.ts'
import { surveyGrid } from '../ground.ts'
import { surroundings } from '../surroundings.ts'
import { placesWritten, publicPlaces, publicRecord, writtenRecord } from './find-places.ts'

const mediaTypes: Readonly<Record<FindsFormat, string>> = {
  csv: 'text/csv; charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  geojson: 'application/geo+json',
  gpkg: 'application/geopackage+sqlite3',
  jsonld: 'application/ld+json',
  pdf: 'application/pdf',
}

type Flat = Readonly<Record<string, string | number | null>>
const headingOf = new Map(ownHeadings.map(([heading, column]) => [column as string, heading]))

/** A record by the headings of our tables: one text or number each, lists joined, terms beside their words. */
function flatRecord(find: FindRecord): Flat {
  const flat: Record<string, string | number | null> = {}
  for (const field of findFieldNames) {
    const value = find[field]
    const name = headingOf.get(field) ?? field
    if (value === null || typeof value !== 'object') flat[name] = value
    else if ('text' in value) flat[name] = value.text
    else flat[name] = value.map((one) => (typeof one === 'string' ? one : one.text)).join('; ') || null
  }
  flat.object_term = find.objectType?.term ?? null
  flat.period_term = find.period?.term ?? null
  flat.material_terms = find.materials.map(({ term }) => term ?? '').join('; ') || null
  return flat
}

interface PlacedFlat {
  readonly lon: number | null
  readonly lat: number | null
  readonly values: Flat
}

function placedFlat(find: FindRecord, placeOf: PlaceOf): PlacedFlat {
  const place = placeOf(find)
  const values = flatRecord(find)
  if (place === null) return { lon: null, lat: null, values }
  const { lon, lat, gridRef, accuracyM, foundOn } = place
  // A moment by the name that readers of findspots know it by; a day, as in a public copy, is no moment.
  const when = foundOn !== null && foundOn.length > 10 ? 'time' : 'found_on'
  return { lon, lat, values: { ...values, grid_ref: gridRef, accuracy_m: accuracyM, [when]: foundOn } }
}

/** RFC 7946: one feature a find; one without a place has no geometry. Positions to 1 mm. */
function geoJson(finds: readonly PlacedFlat[]): string {
  const round = (degrees: number): number => Number(degrees.toFixed(8))
  return JSON.stringify({
    type: 'FeatureCollection',
    features: finds.map(({ lon, lat, values }) => ({
      type: 'Feature',
      id: values.number,
      geometry:
        lon === null || lat === null ? null : { type: 'Point', coordinates: [round(lon), round(lat)] },
      properties: Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null)),
    })),
  })
}

interface Content {
  readonly survey: SurveyFile
  readonly finds: readonly CataloguedFind[]
  readonly records: readonly FindRecord[]
  readonly placeOf: PlaceOf
}

/** Linked data; a place is told by its reference, and by a point. */
function linkedData({ survey, records, placeOf }: Content): string {
  const { uuid, title } = survey.identity()
  return linkedFinds(records, {
    survey: { uuid, title },
    placeOf: (find) => {
      const place = placeOf(find)
      if (place === null) return null
      const [lon, lat] = [place.lon, place.lat].map((degrees) => Number(degrees.toFixed(8)))
      return { label: place.gridRef ?? `${lat}, ${lon}`, wkt: `POINT (${lon} ${lat})` }
    },
  })
}

/** The catalogue to read and print, with thumbnails. */
function printed({ survey, finds, records, placeOf }: Content): Promise<Uint8Array> {
  const ids = new Map(
    finds.map(({ id, record, photographs }) => [record.number, photographs > 0 ? id : null]),
  )
  const { code, title, demo } = survey.identity()
  return findCatalogue({
    survey: { code, title, demo },
    finds: records,
    placeOf: (find) => placeOf(find)?.gridRef ?? null,
    picturesOf: ({ number }) => {
      const id = ids.get(number)
      if (id == null) return []
      return survey.catalogue
        .photographs(id)
        .slice(0, 3)
        .map((photograph) => ({
          bytes: survey.catalogue.thumbnail(photograph.id),
          caption: photograph.role,
        }))
    },
    madeAt: surroundings.now(),
  })
}

async function bytesOf(as: FindsFormat, content: Content): Promise<Uint8Array> {
  const { records, placeOf } = content
  const text = new TextEncoder()
  switch (as) {
    case 'csv':
      return text.encode(findsCsv(records, placeOf))
    case 'xlsx':
      return findsXlsx(records, placeOf)
    case 'geojson':
      return text.encode(geoJson(records.map((find) => placedFlat(find, placeOf))))
    case 'gpkg':
      return findsGeoPackage(records.map((find) => placedFlat(find, placeOf)))
    case 'jsonld':
      return text.encode(linkedData(content))
    case 'pdf':
      return printed(content)
  }
}

/** The catalogue, or part of it, as a file. Faults: SurveyError('nothing-to-export'), 'not-found'. */
export async function exportFinds(
  survey: SurveyFile,
  { as, public: open = false, ids }: FindsExport,
): Promise<MadeFile> {
  const all = survey.catalogue.all()
  const wanted = ids === undefined ? null : new Set(ids)
  const finds = wanted === null ? all : all.filter(({ id }) => wanted.has(id))
  if (finds.length === 0) throw new SurveyError('nothing-to-export', 'The survey has no finds yet.')
  const grid = surveyGrid(survey)
  const placeOf = (open ? publicPlaces : placesWritten)(finds, grid)
  const records = finds.map((find) => (open ? publicRecord(find.record) : writtenRecord(find)))
  const stem = path.basename(survey.path, path.extname(survey.path))
  return {
    fileName: `${stem}-finds${open ? '-public' : ''}.${as}`,
    mediaType: mediaTypes[as],
    bytes: await bytesOf(as, { survey, finds, records, placeOf }),
    features: finds.length,
  }
}

/** The same, from a survey file to a file. Faults: also 'cannot-write'. */
export async function exportFindsToFile(
  surveyPath: string,
  how: FindsExport,
  out: string,
): Promise<ExportReply> {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  try {
    const { bytes, features } = await exportFinds(survey, how)
    writeOut(out, bytes)
    return { written: out, features }
  } finally {
    survey.close()
  }
}
