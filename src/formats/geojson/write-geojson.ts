import { type Polygon, ringArea } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { type Features, findTexts, requireLonLat } from '#formats/features'
import { isoText } from '#formats/time'
import { keepAttribute } from '#formats/track'

type Position = number[]
type Properties = ReadonlyMap<string, unknown>

const rounded = (degrees: number): number => Math.round(degrees * 1e8) / 1e8 + 0

function position(xy: Float64Array, i: number, elevation: Float64Array | null): Position {
  const at = [rounded(xy[2 * i]!), rounded(xy[2 * i + 1]!)]
  const height = elevation?.[i] ?? Number.NaN
  return Number.isNaN(height) ? at : [...at, height]
}

function feature(type: string, coordinates: unknown, properties: Properties): string {
  const geometry = { type, coordinates }
  return JSON.stringify({ type: 'Feature', geometry, properties: Object.fromEntries(properties) })
}

/** The name, then `own`, then the attributes; an attribute of a name already taken goes under `name[2]`. */
function propertiesOf(
  name: string | null,
  own: Iterable<readonly [string, string]>,
  attributes: Readonly<Record<string, string>>,
): Map<string, string> {
  const texts = new Map(own)
  if (name !== null) texts.set('name', name)
  for (const [key, text] of Object.entries(attributes)) keepAttribute(texts, key, text)
  return texts
}

/** Rings by the right-hand rule (RFC 7946 section 3.1.6): the outer counter-clockwise, holes clockwise. */
function polygonRings({ rings }: Polygon): Position[][] {
  return rings.map((ring, r) => {
    const positions = Array.from({ length: ring.length / 2 }, (_, i) => position(ring, i, null))
    return ringArea(ring) > 0 === (r === 0) ? positions : positions.reverse()
  })
}

function areaFeature({ name, polygons, attributes }: RecordedArea): string {
  const properties = propertiesOf(name, [], attributes)
  const rings = polygons.map(polygonRings)
  return rings.length === 1
    ? feature('Polygon', rings[0], properties)
    : feature('MultiPolygon', rings, properties)
}

/** A line for each segment of two fixes or more; RFC 7946 knows no shorter one. */
function trackFeature(track: RecordedTrack): string | null {
  const { name, walked, xy, segmentStart, time, elevation, attributes } = track
  const spans = Array.from(segmentStart, (from, s) => [from, segmentStart[s + 1] ?? xy.length / 2] as const)
  const lines = spans.filter(([from, to]) => to - from >= 2)
  if (lines.length === 0) return null
  const over = <T>(of: (i: number) => T): T[][] =>
    lines.map(([from, to]) => Array.from({ length: to - from }, (_, i) => of(from + i)))
  const coordinates = over((i) => position(xy, i, elevation))
  const properties = new Map<string, unknown>(propertiesOf(name, [], attributes))
  if (!walked) properties.set('walked', false)
  if (time !== null) {
    const times = over((i) => (Number.isNaN(time[i]) ? null : isoText(time[i]!)))
    properties.set('coordTimes', lines.length === 1 ? times[0] : times)
  }
  return lines.length === 1
    ? feature('LineString', coordinates[0], properties)
    : feature('MultiLineString', coordinates, properties)
}

function findspotFeature(spot: RecordedFindspot): string {
  const { name, x, y, elevation, time, note, attributes } = spot
  const own = findTexts(spot)
  if (time !== null) own.set('time', isoText(time))
  if (note !== null) own.set('note', note)
  const height = elevation === null ? null : Float64Array.of(elevation)
  return feature('Point', position(Float64Array.of(x, y), 0, height), propertiesOf(name, own, attributes))
}

/**
 * GeoJSON (RFC 7946) of areas, tracks and findspots: one FeatureCollection, one feature a line of the text. Times of a
 * track stand in `coordTimes`, null where a fix has none; a planned line has `walked: false`. A segment of one fix is no
 * line and is left out. Dilution and other values of single fixes are not written.
 *
 * Positions to 8 decimals (1 mm), rings by the right-hand rule, times in UTC to the millisecond.
 * Cost: one pass; the text in memory. Faults: RangeError for anything not in EPSG:4326.
 */
export function writeGeoJson(features: Features): string {
  requireLonLat(features)
  const lines = [
    ...features.areas.map(areaFeature),
    ...features.tracks.map(trackFeature),
    ...features.findspots.map(findspotFeature),
  ].filter((line) => line !== null)
  return `{"type":"FeatureCollection","features":[\n${lines.join(',\n')}\n]}\n`
}
