import type { Polygon } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { fixedDecimal, plainDecimal } from '#formats/decimal'
import { type Features, findTexts, requireLonLat } from '#formats/features'
import { isoText } from '#formats/time'
import { escapeXml, xmlText } from '#formats/xml'

export interface KmlTitle {
  readonly title?: string
}

function element(name: string, text: string | null): string {
  return text === null ? '' : `<${name}>${xmlText(text)}</${name}>`
}

function extendedData(values: Iterable<readonly [string, string]>): string {
  let data = ''
  for (const [name, text] of values) {
    data += `<Data name="${escapeXml(name)}">${element('value', text)}</Data>`
  }
  return data === '' ? '' : `<ExtendedData>${data}</ExtendedData>`
}

/** Position `i` of interleaved pairs as a tuple, with its height where there is one. */
function tuple(xy: Float64Array, i: number, elevation: Float64Array | null, separator: string): string {
  const height = elevation?.[i] ?? Number.NaN
  const position = fixedDecimal(xy[2 * i]!, 8) + separator + fixedDecimal(xy[2 * i + 1]!, 8)
  return Number.isNaN(height) ? position : position + separator + plainDecimal(height)
}

function ringText(ring: Float64Array): string {
  const tuples = Array.from({ length: ring.length / 2 }, (_, i) => tuple(ring, i, null, ','))
  return `<LinearRing><coordinates>${tuples.join(' ')}</coordinates></LinearRing>`
}

function polygonText({ rings }: Polygon): string {
  const boundaries = rings.map((ring, i) => {
    const name = i === 0 ? 'outerBoundaryIs' : 'innerBoundaryIs'
    return `<${name}>${ringText(ring)}</${name}>`
  })
  return `<Polygon>${boundaries.join('')}</Polygon>`
}

function together(parts: readonly string[]): string {
  return parts.length === 1 ? parts[0]! : `<MultiGeometry>${parts.join('')}</MultiGeometry>`
}

function areaText({ name, polygons, attributes }: RecordedArea): string {
  const { description = null, ...rest } = attributes
  return `<Placemark>${element('name', name)}${element('description', description)}${extendedData(Object.entries(rest))}${together(polygons.map(polygonText))}</Placemark>\n`
}

function findspotText(spot: RecordedFindspot): string {
  const { name, note, time, x, y, elevation, attributes } = spot
  const stamp = time === null ? '' : `<TimeStamp><when>${isoText(time)}</when></TimeStamp>`
  const data = extendedData([...findTexts(spot), ...Object.entries(attributes)])
  const height = elevation === null ? null : Float64Array.of(elevation)
  const point = `<Point><coordinates>${tuple(Float64Array.of(x, y), 0, height, ',')}</coordinates></Point>`
  return `<Placemark>${element('name', name)}${element('description', note)}${stamp}${data}${point}</Placemark>\n`
}

/** Index of the first fix, and of the fix behind the last, of each segment. */
function spans({ xy, segmentStart }: RecordedTrack): [number, number][] {
  return Array.from(segmentStart, (from, s) => [from, segmentStart[s + 1] ?? xy.length / 2])
}

function timedText(track: RecordedTrack, time: Float64Array): string {
  const segments = spans(track).map(([from, to]) => {
    const out: string[] = []
    for (let i = from; i < to; i++) out.push(`<when>${isoText(time[i]!)}</when>`)
    for (let i = from; i < to; i++) {
      out.push(`<gx:coord>${tuple(track.xy, i, track.elevation, ' ')}</gx:coord>`)
    }
    return `<gx:Track>${out.join('')}</gx:Track>`
  })
  return segments.length === 1 ? segments[0]! : `<gx:MultiTrack>${segments.join('')}</gx:MultiTrack>`
}

/** Lines without times. One fix alone is no line and is left out. */
function untimedText(track: RecordedTrack): string | null {
  const lines = spans(track)
    .filter(([from, to]) => to - from >= 2)
    .map(([from, to]) => {
      const tuples = Array.from({ length: to - from }, (_, i) =>
        tuple(track.xy, from + i, track.elevation, ','),
      )
      return `<LineString><coordinates>${tuples.join(' ')}</coordinates></LineString>`
    })
  return lines.length === 0 ? null : together(lines)
}

function trackText(track: RecordedTrack): string {
  const { name, walked, time, attributes } = track
  const timed = time !== null && time.length > 0 && !time.some(Number.isNaN)
  const geometry = timed ? timedText(track, time) : untimedText(track)
  if (geometry === null) return ''
  const { description = null, ...rest } = attributes
  const data = extendedData([...(walked ? [] : [['walked', 'false'] as const]), ...Object.entries(rest)])
  return `<Placemark>${element('name', name)}${element('description', description)}${data}${geometry}</Placemark>\n`
}

/**
 * KML 2.2 of areas, tracks and findspots. A track whose every fix has a time becomes a gx:Track, any other a LineString,
 * since KML has no fix without a time; a segment of one fix is then left out. Find, accuracy and other attributes stand
 * in ExtendedData. Dilution and other values of single fixes are not written.
 *
 * Positions to 8 decimals (1 mm), times in UTC to the millisecond. Characters that XML forbids are left out.
 * Cost: one pass; the text in memory. Faults: RangeError for anything not in EPSG:4326.
 */
export function writeKml(features: Features, { title }: KmlTitle = {}): string {
  requireLonLat(features)
  return [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    '<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document>',
    `${element('name', title ?? null)}\n`,
    ...features.areas.map(areaText),
    ...features.tracks.map(trackText),
    ...features.findspots.map(findspotText),
    '</Document></kml>\n',
  ].join('')
}
