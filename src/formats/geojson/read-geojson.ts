import type { FileContent } from '#core/record'
import { type ByteSource, type Progress, wholeText } from '#formats/bytes'
import { FaultList, quoted } from '#formats/fault-list'
import { FeatureReader, isObject, rejectOtherCrs } from './feature-reader.ts'
import { Rejected } from './rejected.ts'
import { type JsonScan, scanJson } from './scan-json.ts'

export interface GeoJsonOptions {
  /** The name the user knows the file by; stands in sentences. */
  readonly fileName: string
  readonly progress?: Progress
}

const geometries = new Set(
  'Point MultiPoint LineString MultiLineString Polygon MultiPolygon GeometryCollection'.split(' '),
)

/**
 * Reads GeoJSON as RFC 7946 has it: FeatureCollection, Feature, bare geometries, GeometryCollection. Polygons become areas
 * (winding is not relied on), lines become tracks, points findspots. Times of a line come from `coordTimes` or `times`.
 *
 * A feature that is not RFC 7946 is left out with a reason, its number and its line: positions out of range, open rings,
 * wrong nesting. A reference system other than WGS84 rejects what states it. Where the text stops being JSON, the complete
 * features before that place are kept.
 *
 * CRS     EPSG:4326, longitude first.
 * Cost    the text and its values in memory; a second pass over the text only if something is wrong.
 * Faults  SurveyError('file-too-large') above 256 Mi characters; all else is in `faults`.
 */
export function readGeoJson(source: ByteSource, options: GeoJsonOptions): FileContent {
  const faults = new FaultList()
  const text = wholeText(source, options.fileName, faults, options.progress)
  const reader = new FeatureReader(faults)
  try {
    readDocument(text, reader, faults)
  } catch (cause) {
    if (!(cause instanceof Rejected)) throw cause
    faults.note(null, cause.code, `Nothing was read: ${cause.message}.`)
  }
  reader.finish()
  const { tracks, areas, findspots } = reader
  if (tracks.length + areas.length + findspots.length + faults.count === 0) {
    faults.note(null, 'empty-file', 'The file holds no feature.')
  }
  return { kind: 'geojson', tracks, areas, findspots, faults: faults.list() }
}

function readDocument(text: string, reader: FeatureReader, faults: FaultList): void {
  if (text.trim() === '') return
  let scan: JsonScan | undefined
  const lineOf = (index: number) => (): number | null => {
    scan ??= scanJson(text)
    return scan.features[index]?.line ?? null
  }
  let root: unknown
  try {
    root = JSON.parse(text)
  } catch {
    salvage(text, scanJson(text), reader, faults)
    return
  }
  if (!isObject(root)) throw new Rejected('unknown-kind', 'it is JSON, but not a GeoJSON object')
  rejectOtherCrs(root)
  const { type } = root
  if (type === 'FeatureCollection') {
    if (!Array.isArray(root.features)) throw new Rejected('bad-value', 'its "features" are not an array')
    root.features.forEach((feature, i) => {
      reader.feature(feature, `Feature ${i + 1}`, lineOf(i))
    })
  } else if (type === 'Feature') reader.feature(root, 'The feature', () => null)
  else if (typeof type === 'string' && geometries.has(type)) {
    reader.feature({ type: 'Feature', geometry: root, properties: null }, 'The geometry', () => null)
  } else {
    const said = typeof type === 'string' ? `of the type ${quoted(type)}` : 'without a type'
    throw new Rejected('unknown-kind', `it is JSON ${said}, which is not GeoJSON`)
  }
}

/** Keeps the complete features before the place where the text stops being JSON. */
function salvage(text: string, scan: JsonScan, reader: FeatureReader, faults: FaultList): void {
  const spanned = ({ from, to }: { from: number; to: number }): unknown => JSON.parse(text.slice(from, to))
  const crs = scan.members.get('crs')
  if (crs !== undefined) rejectOtherCrs({ crs: spanned(crs) })
  scan.features.forEach((span, i) => {
    reader.feature(spanned(span), `Feature ${i + 1}`, () => span.line)
  })
  const { line, column } = scan.error ?? { line: 1, column: 1 }
  const count = scan.features.length
  const kept = count === 0 ? 'nothing could be kept' : `the ${count} complete features before it were kept`
  faults.note(line, 'broken-file', `The text is no JSON from line ${line}, column ${column} on; ${kept}.`)
}
