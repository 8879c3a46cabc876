import { spanText } from '#core/dating'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { fixedDecimal, plainDecimal } from '#formats/decimal'
import { type Features, findTexts, requireLonLat } from '#formats/features'
import { isoText } from '#formats/time'
import { escapeXml, xmlText } from '#formats/xml'
import { fixWriter } from './gpx-fix.ts'
import { ownNamespace } from './gpx-own.ts'

export interface GpxTitle {
  /** Stands in the metadata of the file. */
  readonly title?: string
  /** When the file was made, seconds since 1970-01-01 UTC. */
  readonly time?: number
  /** Planned lines to be written as trk, marked as planned in this project's own extension: some receivers follow nothing else. */
  readonly plannedTracks?: readonly RecordedTrack[]
}

/** Fixes put together into one piece of text at a time: the scraps of a million would burden the memory until the end. */
const together = 1000

/** One element with text; nothing for null. */
function element(name: string, text: string | null): string {
  return text === null ? '' : `<${name}>${xmlText(text)}</${name}>`
}

/** Own values inside `extensions`, `inner` before them; nothing where there are none. */
function extensions(values: Iterable<readonly [string, string]>, inner = ''): string {
  let texts = inner
  for (const [name, text] of values) {
    texts += `<lynchet:value name="${escapeXml(name)}">${xmlText(text)}</lynchet:value>`
  }
  return texts === '' ? '' : `<extensions>${texts}</extensions>`
}

/** Attributes that GPX itself has a place for, in the order of its schema; the rest go to the extensions. */
function parted(
  attributes: Readonly<Record<string, string>>,
  native: readonly string[],
): { own: string; rest: [string, string][] } {
  const fits = (name: string): boolean =>
    Object.hasOwn(attributes, name) && (name !== 'number' || /^\d{1,9}$/.test(attributes[name]!))
  const taken = native.filter(fits)
  const rest = Object.entries(attributes).filter(([name]) => !taken.includes(name))
  const own = taken.map((name) => element(name, attributes[name]!)).join('')
  return { own, rest }
}

const isYear = (year: number): boolean => Number.isInteger(year) && year !== 0

/** "3 buckles" and the like, for receivers that show nothing but a comment. */
function summary(
  texts: ReadonlyMap<string, string>,
  { from_year: from, to_year: to }: Readonly<Record<string, string>>,
): string | null {
  const said = ['number', 'object', 'material', 'period'].flatMap((name) => texts.get(name) ?? [])
  const years = { from: Number(from), to: Number(to) }
  if (isYear(years.from) && isYear(years.to)) said.push(spanText(years))
  const count = texts.get('count')
  if (count !== undefined && count !== '1') said.push(`${count} pieces`)
  const weight = texts.get('weight_g')
  if (weight !== undefined) said.push(`${weight} g`)
  const depth = texts.get('depth_m')
  if (depth !== undefined) said.push(`${depth} m deep`)
  return said.length === 0 ? null : said.join(', ')
}

function waypoint(spot: RecordedFindspot): string {
  const { x, y, elevation, time, name, note, find, attributes } = spot
  const texts = findTexts(spot)
  const { own, rest } = parted(attributes, ['src', 'sym', 'type'])
  const marks = name === null && find?.number ? '<lynchet:unnamed/>' : ''
  const found = [...texts].map(([key, text]) => `<lynchet:${key}>${xmlText(text)}</lynchet:${key}>`).join('')
  return `<wpt lat="${fixedDecimal(y, 8)}" lon="${fixedDecimal(x, 8)}">${[
    element('ele', elevation === null ? null : plainDecimal(elevation)),
    element('time', time === null ? null : isoText(time)),
    element('name', name ?? find?.number ?? null),
    element('cmt', find === null ? null : summary(texts, attributes)),
    element('desc', note),
    own,
    extensions(rest, marks + found),
  ].join('')}</wpt>\n`
}

function pushTrack(out: string[], track: RecordedTrack, planned = false): void {
  const { name, xy, segmentStart, attributes } = track
  const walked = track.walked || planned
  const { own, rest } = parted(attributes, ['cmt', 'desc', 'src', 'number', 'type'])
  const [outer, point] = walked ? ['trk', 'trkpt'] : ['rte', 'rtept']
  out.push(
    `<${outer}>${element('name', name)}${own}${extensions(rest, planned ? '<lynchet:planned>yes</lynchet:planned>' : '')}\n`,
  )
  const fix = fixWriter(track, point)
  for (let s = 0; s < segmentStart.length; s++) {
    const end = segmentStart[s + 1] ?? xy.length / 2
    if (walked) out.push('<trkseg>\n')
    for (let from = segmentStart[s]!; from < end; from += together) {
      const lines: string[] = []
      for (let i = from; i < Math.min(end, from + together); i++) lines.push(fix(i))
      out.push(lines.join(''))
    }
    if (walked) out.push('</trkseg>\n')
  }
  out.push(`</${outer}>\n`)
}

function pushArea(out: string[], area: RecordedArea, index: number): void {
  area.polygons.forEach(({ rings }, part) => {
    rings.forEach((ring, r) => {
      const which = [area.polygons.length > 1 ? `part ${part + 1}` : '', r > 0 ? `hole ${r}` : ''].filter(
        Boolean,
      )
      const label = which.length === 0 ? area.name : `${area.name ?? 'Area'} (${which.join(', ')})`
      const place = `<lynchet:ring>area ${index} part ${part} ring ${r}</lynchet:ring>${element('lynchet:area', area.name)}`
      const values = part === 0 && r === 0 ? Object.entries(area.attributes) : []
      out.push(
        `<trk>${element('name', label)}<desc>Outline of an area, not walked ground</desc>${extensions(values, place)}\n<trkseg>\n`,
      )
      for (let i = 0; i < ring.length; i += 2) {
        out.push(`<trkpt lat="${fixedDecimal(ring[i + 1]!, 8)}" lon="${fixedDecimal(ring[i]!, 8)}"/>\n`)
      }
      out.push('</trkseg>\n</trk>\n')
    })
  })
}

/**
 * GPX 1.1 of areas, tracks and findspots. GPX has no polygons: each ring of an area is a closed trk, named, and marked in
 * this project's own extension so that `readGpx` makes areas of them again. Planned lines are rte (their segments run
 * together), findspots wpt. What GPX has no element for (find, accuracy, other attributes) stands in that extension.
 *
 * Positions to 8 decimals (1 mm), times in UTC to the millisecond. Characters that XML forbids are left out.
 * Cost: one pass; the text in memory. Faults: RangeError for anything not in EPSG:4326.
 */
export function writeGpx(features: Features, { title, time, plannedTracks = [] }: GpxTitle = {}): string {
  requireLonLat(features)
  requireLonLat({ areas: [], tracks: plannedTracks, findspots: [] })
  const out = [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    '<gpx version="1.1" creator="Lynchet" xmlns="http://www.topografix.com/GPX/1/1"',
    ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"',
    ' xsi:schemaLocation="http://www.topografix.com/GPX/1/1 http://www.topografix.com/GPX/1/1/gpx.xsd"',
    ` xmlns:lynchet="${ownNamespace}">\n`,
  ]
  const head = element('name', title ?? null) + element('time', time === undefined ? null : isoText(time))
  if (head !== '') out.push(`<metadata>${head}</metadata>\n`)
  for (const spot of features.findspots) out.push(waypoint(spot))
  for (const track of features.tracks) if (!track.walked) pushTrack(out, track)
  for (const track of features.tracks) if (track.walked) pushTrack(out, track)
  for (const track of plannedTracks) pushTrack(out, track, true)
  features.areas.forEach((area, i) => {
    pushArea(out, area, i)
  })
  out.push('</gpx>\n')
  return out.join('')
}
