import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { decimal } from '#formats/decimal'
import { type FaultList, quoted } from '#formats/fault-list'
import { isoSeconds, statesZone } from '#formats/time'
import { attributesOf, keepAttribute, TrackBuilder, TrackNotes } from '#formats/track'
import { localName, type XmlEvents } from '#formats/xml'
import { GpxAreas } from './gpx-areas.ts'
import { ownNamespace, plannedKey, takeOwn } from './gpx-own.ts'
import { type GpxNames, GpxPlace } from './gpx-place.ts'
import { PlainFixes } from './plain-fixes.ts'

type Attributes = Readonly<Record<string, string>>

/** Turns the elements of one GPX file into tracks and findspots. State: where in the tree we are, and what is half read. */
export class GpxReader implements XmlEvents {
  readonly tracks: RecordedTrack[] = []
  readonly findspots: RecordedFindspot[] = []
  areas: RecordedArea[] = []
  /** Name of the outermost element, null before it. */
  root: string | null = null

  /** Fixes in the plain form, inside a segment, need no parser. */
  readonly shortCut: PlainFixes | null
  readonly #line: () => number
  readonly #faults: FaultList
  readonly #notes = new TrackNotes()
  readonly #rings = new GpxAreas()
  readonly #builder = new TrackBuilder()
  readonly #document = new GpxPlace('document', null, '')
  readonly #names: GpxNames = { gpx: '', own: null, kinds: 0 }
  #place: GpxPlace = this.#document
  #above: GpxPlace[] = []
  #text = ''
  #hadChild = false
  #valueName = ''
  #trackLine = 0
  #zoneless = 0
  #zonelessLine = 0
  // The track, route or waypoint being read.
  #name: string | null = null
  #attributes = new Map<string, string>()
  // The fix or waypoint being read.
  #latText = ''
  #lonText = ''
  #moreAttributes = false
  #located = false
  #lat = Number.NaN
  #lon = Number.NaN
  #time = Number.NaN
  #elevation = Number.NaN
  #hdop = Number.NaN

  constructor(line: () => number, faults: FaultList, shortCuts: boolean) {
    this.#line = line
    this.#faults = faults
    const inSegment = (): boolean => this.#place.role === 'segment' && this.#names.gpx === ''
    this.shortCut = shortCuts ? new PlainFixes(this.#builder, inSegment) : null
  }

  /** Comes before `open`: of a million fixes only lat and lon are wanted, and this way no record is searched for them. */
  attribute(name: string, value: string): void {
    if (name === 'lat') this.#latText = value
    else if (name === 'lon') this.#lonText = value
    else this.#moreAttributes = true
  }

  open(name: string, attributes: Attributes): void {
    const parent = this.#place
    this.#above.push(parent)
    if (this.#text !== '') this.#flushMixed(parent)
    this.#hadChild = false
    if (parent === this.#document) this.#openRoot(name, attributes)
    const place = parent.child(name, this.#names)
    this.#place = place
    switch (place.role) {
      case 'fix':
      case 'waypoint':
        this.#openPoint(place, attributes)
        break
      case 'track':
      case 'route':
        this.#name = null
        this.#attributes = new Map()
        this.#trackLine = this.#line()
        break
      case 'segment':
        this.#builder.startSegment()
        break
      case 'leaf':
        this.#keepAttributes(place, attributes)
        break
      case 'value':
        this.#valueName = attributes.name ?? ''
        break
    }
    this.#latText = ''
    this.#lonText = ''
    this.#moreAttributes = false
  }

  text(text: string): void {
    const { owner } = this.#place
    if (owner !== null && this.#place !== owner) this.#text = this.#text === '' ? text : this.#text + text
  }

  close(): void {
    const place = this.#place
    this.#place = this.#above.pop() ?? this.#document
    const text = this.#text
    this.#text = ''
    switch (place.role) {
      case 'fix':
        if (this.#located) {
          this.#builder.push(this.#lon, this.#lat, this.#time, this.#elevation, this.#hdop)
        }
        break
      case 'elevation':
        this.#elevation = this.#number(text, 'height')
        break
      case 'time':
        this.#time = this.#seconds(text)
        break
      case 'hdop':
        this.#hdop = this.#number(text, 'dilution')
        break
      case 'name':
        this.#name = text.trim() || null
        break
      case 'value':
        this.#keep(place, this.#valueName, text)
        break
      case 'leaf':
        this.#closeLeaf(place, text)
        break
      case 'waypoint':
        this.#closeWaypoint()
        break
      case 'track':
      case 'route':
        this.#closeTrack(place.role === 'track')
        break
    }
    this.#hadChild = true
  }

  /** After the last event: keeps a track that the file broke off in, and says what concerns the file as a whole. */
  finish(): void {
    const open = [...this.#above, this.#place].find(({ role }) => role === 'track' || role === 'route')
    if (open !== undefined && this.#builder.count > 0) this.#closeTrack(open.role === 'track')
    this.areas = this.#rings.finish()
    this.#notes.tell(this.#faults)
    if (this.#zoneless > 0) {
      const which = this.#zoneless === 1 ? 'A time names no zone; it was' : 'Times name no zone; they were'
      this.#faults.note(this.#zonelessLine, 'assumed', `${which} taken as UTC.`)
    }
  }

  #openRoot(name: string, attributes: Attributes): void {
    this.root ??= name
    this.#names.gpx = name.slice(0, name.indexOf(':') + 1)
    for (const attribute in attributes) {
      if (attribute.startsWith('xmlns:') && attributes[attribute] === ownNamespace) {
        this.#names.own = `${localName(attribute)}:`
      }
    }
  }

  #openPoint(place: GpxPlace, attributes: Attributes): void {
    this.#time = Number.NaN
    this.#elevation = Number.NaN
    this.#hdop = Number.NaN
    this.#lat = decimal(this.#latText)
    this.#lon = decimal(this.#lonText)
    this.#located = Math.abs(this.#lat) <= 90 && Math.abs(this.#lon) <= 180
    if (place.role === 'waypoint') {
      this.#name = null
      this.#attributes = new Map()
    }
    if (!this.#located) this.#faultPoint(place.role === 'waypoint' ? 'waypoint' : 'fix')
    else if (this.#moreAttributes) this.#keepAttributes(place, attributes)
  }

  #faultPoint(what: string): void {
    const line = this.#line()
    const lat = this.#latText
    const lon = this.#lonText
    if (Number.isNaN(this.#lat) || Number.isNaN(this.#lon)) {
      const given = lat === '' && lon === '' ? 'no lat and lon' : `lat ${quoted(lat)} lon ${quoted(lon)}`
      this.#faults.add(
        line,
        'bad-value',
        `A ${what} with ${given} was left out: no position can be read there.`,
      )
    } else if (Math.abs(this.#lat) <= 180 && Math.abs(this.#lon) <= 90) {
      const sentence = `A ${what} at lat ${lat} lon ${lon} was left out: latitude and longitude look swapped.`
      this.#faults.add(line, 'coordinates-swapped', sentence)
    } else {
      const sentence = `A ${what} at lat ${lat.slice(0, 20)} lon ${lon.slice(0, 20)} was left out: latitudes run from -90 to 90, longitudes from -180 to 180.`
      this.#faults.add(line, 'coordinate-out-of-range', sentence)
    }
  }

  #keepAttributes(place: GpxPlace, attributes: Attributes): void {
    for (const name in attributes) {
      if (place === place.owner && (name === 'lat' || name === 'lon')) continue
      if (name.startsWith('xmlns')) continue
      this.#keep(place, `${place.path}@${name}`, attributes[name]!)
    }
  }

  /** Text before a child element belongs to the parent: it is kept there unless it is only white space. */
  #flushMixed(parent: GpxPlace): void {
    const text = this.#text.trim()
    this.#text = ''
    if (text !== '' && parent.role === 'leaf') this.#keep(parent, parent.path, text)
  }

  #closeLeaf(place: GpxPlace, text: string): void {
    const value = text.trim()
    const flag = !this.#hadChild && place.path.startsWith('extensions/')
    if (value !== '' || flag) this.#keep(place, place.path, value)
  }

  #keep(place: GpxPlace, name: string, value: string): void {
    const role = place.owner?.role
    if (role === 'fix') {
      if (this.#located) this.#builder.extra(name, value)
    } else if (role === 'segment') keepAttribute(this.#attributes, `trkseg/${name}`, value)
    else keepAttribute(this.#attributes, name, value)
  }

  #number(text: string, what: string): number {
    const value = decimal(text)
    if (Number.isNaN(value) && text.trim() !== '' && this.#located) {
      const sentence = `The ${what} ${quoted(text)} is not a number; the position was kept without it.`
      this.#faults.add(this.#line(), 'bad-value', sentence)
    }
    return value
  }

  #seconds(text: string): number {
    const last = text.charCodeAt(text.length - 1)
    const tidy = last === 90 && text.charCodeAt(0) > 32 ? text : text.trim()
    const seconds = isoSeconds(tidy)
    if (Number.isNaN(seconds)) {
      if (tidy !== '' && this.#located) {
        const sentence = `The time ${quoted(tidy)} cannot be read; the position was kept without it.`
        this.#faults.add(this.#line(), 'bad-value', sentence)
      }
    } else if (last !== 90 && !statesZone(tidy)) {
      if (this.#zoneless === 0) this.#zonelessLine = this.#line()
      this.#zoneless++
    }
    return seconds
  }

  #closeTrack(walked: boolean): void {
    const planned = this.#attributes.delete(plannedKey)
    const track = this.#builder.finish(this.#name, walked && !planned, this.#attributes)
    if (this.#rings.take(track)) return
    this.#notes.see(track, this.tracks.length, this.#trackLine)
    this.tracks.push(track)
  }

  #closeWaypoint(): void {
    if (!this.#located) return
    const attributes = this.#attributes
    const { find, accuracyM, unnamed } = takeOwn(attributes)
    if (find !== null) attributes.delete('cmt')
    const comment = attributes.get('cmt')
    const note = attributes.get('desc') ?? comment ?? null
    attributes.delete('desc')
    if (note === comment) attributes.delete('cmt')
    this.findspots.push({
      epsg: 4326,
      name: unnamed ? null : this.#name,
      x: this.#lon,
      y: this.#lat,
      accuracyM,
      elevation: Number.isNaN(this.#elevation) ? null : this.#elevation,
      time: Number.isNaN(this.#time) ? null : this.#time,
      note,
      find,
      attributes: attributesOf(attributes),
    })
  }
}
