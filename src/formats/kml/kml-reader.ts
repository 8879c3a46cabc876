import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { type FaultList, quoted } from '#formats/fault-list'
import { findspotFrom } from '#formats/fields'
import { isoSeconds, statesZone } from '#formats/time'
import { attributesOf, keepAttribute, TrackBuilder, TrackNotes } from '#formats/track'
import { localName, type XmlEvents } from '#formats/xml'
import { type Line, Placemark } from './placemark.ts'

/** Elements whose text is wanted; what they hold besides text is passed over, so HTML in a description does no harm. */
const leaves = new Set(
  'name description coordinates when begin end coord angles value SimpleData address phoneNumber Snippet snippet styleUrl'.split(
    ' ',
  ),
)
/** Elements that say how things look or how the file is fetched. */
const passedOver = new Set('Style StyleMap Schema LookAt Camera Region NetworkLinkControl'.split(' '))
/** Elements that a survey has no place for, in words. */
const unsupported: ReadonlyMap<string, string> = new Map([
  ['NetworkLink', 'A link to another file was not followed'],
  ['GroundOverlay', 'A picture laid on the ground was not read'],
  ['ScreenOverlay', 'A picture laid on the screen was not read'],
  ['PhotoOverlay', 'A photograph was not read'],
  ['Model', 'A three-dimensional model was not read'],
  ['Tour', 'A tour was not read'],
])

const geometries = new Set('Point LineString LinearRing Polygon MultiGeometry Track MultiTrack'.split(' '))

/** Turns the elements of one KML file into areas, tracks and findspots, one Placemark at a time. */
export class KmlReader implements XmlEvents {
  readonly tracks: RecordedTrack[] = []
  readonly areas: RecordedArea[] = []
  readonly findspots: RecordedFindspot[] = []
  root: string | null = null

  readonly #line: () => number
  readonly #faults: FaultList
  readonly #notes = new TrackNotes()
  readonly #builder = new TrackBuilder()
  #open: string[] = []
  #skipFrom = 0
  #leafFrom = 0
  #leafName = ''
  #text = ''
  #folders: { name: string | null; counts: boolean }[] = []
  #placemark: Placemark | null = null
  #placemarkFrom = 0
  #series = ''
  #zoneless = false

  constructor(line: () => number, faults: FaultList) {
    this.#line = line
    this.#faults = faults
  }

  open(name: string, attributes: Readonly<Record<string, string>>): void {
    const local = localName(name)
    const parent = this.#open.at(-1)
    this.root ??= local
    this.#open.push(local)
    if (this.#skipFrom > 0 || this.#leafFrom > 0) return
    const inData = parent === 'ExtendedData' && !['Data', 'SchemaData', 'SimpleArrayData'].includes(local)
    if (leaves.has(local) || inData) {
      this.#leafFrom = this.#open.length
      this.#leafName = attributes.name ?? local
      this.#text = ''
      return
    }
    const reason = unsupported.get(local)
    if (reason !== undefined) {
      this.#faults.add(this.#line(), 'unsupported-feature', `${reason}.`)
      if (this.#placemark !== null) this.#placemark.rejected++
    }
    if (reason !== undefined || passedOver.has(local)) this.#skipFrom = this.#open.length
    else this.#openContainer(local, attributes)
  }

  text(text: string): void {
    if (this.#leafFrom > 0) this.#text += text
  }

  close(): void {
    const local = this.#open.pop() ?? ''
    const depth = this.#open.length
    if (this.#skipFrom > 0) {
      if (depth < this.#skipFrom) this.#skipFrom = 0
    } else if (this.#leafFrom > 0) {
      if (depth >= this.#leafFrom) return
      this.#leafFrom = 0
      this.#leaf(local, this.#open.at(-1) ?? '', this.#text.trim())
    } else this.#closeContainer(local)
  }

  finish(): void {
    this.#notes.tell(this.#faults)
    if (this.#zoneless) this.#faults.note(null, 'assumed', 'Times name no zone; they were taken as UTC.')
  }

  #openContainer(local: string, attributes: Readonly<Record<string, string>>): void {
    if (local === 'Folder' || local === 'Document') {
      this.#folders.push({ name: null, counts: local === 'Folder' })
    } else if (local === 'Data' || local === 'SimpleArrayData') this.#series = attributes.name ?? ''
    // A geometry without a Placemark around it, as a file of one geometry has it, counts as one.
    if (this.#placemark === null && (local === 'Placemark' || geometries.has(local))) {
      this.#placemark = new Placemark(this.#line())
      this.#placemarkFrom = this.#open.length
      if (attributes.id !== undefined) this.#placemark.texts.set('id', attributes.id)
    }
    if (local === 'Polygon') this.#placemark?.startPolygon()
    else if (local === 'outerBoundaryIs') this.#placemark?.startBoundary('outer')
    else if (local === 'innerBoundaryIs') this.#placemark?.startBoundary('inner')
    else if (local === 'Track') this.#placemark?.startTrack()
  }

  #closeContainer(local: string): void {
    const placemark = this.#placemark
    if (local === 'Folder' || local === 'Document') this.#folders.pop()
    else if (local === 'Polygon') placemark?.endPolygon(this.#report)
    else if (local === 'outerBoundaryIs' || local === 'innerBoundaryIs') placemark?.startBoundary(null)
    else if (local === 'Track') placemark?.endTrack()
    if (placemark !== null && this.#open.length < this.#placemarkFrom) {
      this.#placemark = null
      this.#take(placemark)
    }
  }

  #leaf(local: string, parent: string, text: string): void {
    const placemark = this.#placemark
    if (local === 'name' && (parent === 'Folder' || parent === 'Document')) {
      const folder = this.#folders.at(-1)
      if (folder !== undefined) folder.name = text
    }
    if (placemark === null) return
    if (local === 'coordinates') placemark.coordinates(parent, text, this.#report)
    else if (local === 'coord' && parent === 'Track') placemark.coord(text, this.#report)
    else if (local === 'when' && parent === 'Track') placemark.when(text)
    else if (local === 'angles' && parent === 'Track') placemark.value('angles', text)
    else if (local === 'value' && parent === 'SimpleArrayData') placemark.value(this.#series, text)
    else if (local === 'value' && parent === 'Data') keepAttribute(placemark.texts, this.#series, text)
    else if (parent === 'Placemark') this.#placemarkLeaf(placemark, local, text)
    else if (local === 'when') placemark.time = text
    else if (text !== '' && ['SchemaData', 'ExtendedData', 'TimeSpan'].includes(parent)) {
      keepAttribute(placemark.texts, this.#leafName, text)
    }
  }

  #placemarkLeaf(placemark: Placemark, local: string, text: string): void {
    if (local === 'name') placemark.name = text
    else if (local === 'description') placemark.description = text === '' ? null : text
    else if (text !== '') keepAttribute(placemark.texts, local, text)
  }

  /** Reports a fault `linesAfter` lines above the one now being read. */
  readonly #report = (code: Parameters<FaultList['add']>[1], text: string, linesAfter: number): void =>
    this.#faults.add(this.#line() - linesAfter, code, text)

  #take(placemark: Placemark): void {
    const { points, lines, polygons, texts, name, description } = placemark
    const folder = this.#folders.flatMap(({ name, counts }) => (counts && name ? [name] : [])).join(' / ')
    if (folder !== '') keepAttribute(texts, 'folder', folder)
    if (points.length + lines.length + polygons.length === 0) {
      if (placemark.rejected > 0) return
      const text = `${placemark.called} was left out: it has no position.`
      this.#faults.add(placemark.line, 'unsupported-feature', text)
      return
    }
    for (const [x, y, z] of points) {
      const onBad = (field: string, text: string): void =>
        this.#faults.add(
          placemark.line,
          'bad-value',
          `${placemark.called}: the ${field} ${quoted(text)} cannot be read.`,
        )
      const time = placemark.time === null ? null : this.#seconds(placemark.time, placemark)
      const elevation = Number.isNaN(z) ? null : z
      const own = { name, note: description, time: time === null || Number.isNaN(time) ? null : time }
      this.findspots.push(findspotFrom({ epsg: 4326, x, y, elevation, ...own, properties: texts, onBad }))
    }
    const rest = new Map(texts)
    if (description !== null) keepAttribute(rest, 'description', description)
    if (placemark.time !== null) keepAttribute(rest, 'time', placemark.time)
    if (polygons.length > 0) {
      this.areas.push({ epsg: 4326, name, polygons, attributes: attributesOf(rest) })
    }
    if (lines.length > 0) this.#takeTrack(placemark, rest)
  }

  #takeTrack(placemark: Placemark, attributes: Map<string, string>): void {
    const walked = attributes.get('walked') !== 'false'
    attributes.delete('walked')
    for (const line of placemark.lines) {
      this.#builder.startSegment()
      this.#pushLine(line, placemark)
    }
    const track = this.#builder.finish(placemark.name, walked, attributes)
    this.#notes.see(track, this.tracks.length, placemark.line)
    this.tracks.push(track)
  }

  #pushLine(line: Line, placemark: Placemark): void {
    if ('xyz' in line) {
      for (const [x, y, z] of line.xyz) this.#builder.push(x, y, Number.NaN, z, Number.NaN)
      return
    }
    const { when, where, series } = line
    const timed = when.length === where.length
    if (!timed && when.length > 0) {
      const text = `${placemark.called}: its times were left out, since there are ${when.length} for ${where.length} fixes.`
      this.#faults.add(placemark.line, 'bad-value', text)
    }
    where.forEach((position, i) => {
      if (position === null) return
      for (const [name, values] of series) {
        if (values.length === where.length && values[i] !== '') this.#builder.extra(name, values[i]!)
      }
      const time = timed ? this.#seconds(when[i]!, placemark) : Number.NaN
      this.#builder.push(position[0], position[1], time, position[2], Number.NaN)
    })
  }

  #seconds(text: string, placemark: Placemark): number {
    if (text === '') return Number.NaN
    const seconds = isoSeconds(text)
    if (Number.isNaN(seconds)) {
      const sentence = `${placemark.called}: the time ${quoted(text)} cannot be read.`
      this.#faults.add(placemark.line, 'bad-value', sentence)
    } else if (text.includes(':') && !statesZone(text)) this.#zoneless = true
    return seconds
  }
}
