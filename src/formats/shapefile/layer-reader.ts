import type { FaultCode } from '#core/faults'
import { ringArea } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import type { SourceSystem } from '#formats/coordinate-system'
import { type FaultList, quoted } from '#formats/fault-list'
import { fieldOf, findspotFrom } from '#formats/fields'
import { attributesOf, keepAttribute, TrackBuilder, TrackNotes } from '#formats/track'
import type { Shape } from './record-shape.ts'
import { type RingWork, ringsToPolygons } from './rings-to-polygons.ts'

/** One record of one layer, with what its row says. */
export interface LayerRecord {
  /** As it stands in sentences: `Record 3 of fields.shp`. */
  readonly what: string
  readonly shape: Shape
  readonly texts: Map<string, string>
}

/** Findspots of one archive; points beyond them are no record of a survey. */
const mostFindspots = 1_000_000
/** Metres, or feet: no figure of any grid of the Earth is larger. */
const furthest = 2e8

const unusable = {
  flat: ['area-invalid', 'it encloses no ground'],
  slow: ['unsafe-file', 'which of its rings are holes would take too long to tell'],
} as const satisfies Record<string, readonly [FaultCode, string]>

/** Turns the records of all layers into areas, tracks and findspots. */
export class LayerReader {
  readonly tracks: RecordedTrack[] = []
  readonly areas: RecordedArea[] = []
  readonly findspots: RecordedFindspot[] = []
  readonly #faults: FaultList
  readonly #notes = new TrackNotes()
  readonly #builder = new TrackBuilder()
  readonly #work: RingWork = { left: 3e8 }
  #measuresLost = false
  #pointsLost = 0

  constructor(faults: FaultList) {
    this.#faults = faults
  }

  record(record: LayerRecord, system: SourceSystem): void {
    const { what, shape } = record
    const xy = recorded(shape.xy, system)
    if (!(xy instanceof Float64Array)) {
      this.#faults.add(null, xy.code, `${what} was left out: ${xy.text}.`)
    } else if (shape.kind === 'points') this.#points(record, xy, system.epsg)
    else if (shape.kind === 'lines') this.#line(record, xy, system.epsg)
    else this.#area(record, xy, system.epsg)
  }

  finish(): void {
    this.#notes.tell(this.#faults)
    if (this.#measuresLost) {
      const text = 'Measures (M) of polygons have no place in a survey; they were left out.'
      this.#faults.note(null, 'unsupported-feature', text)
    }
    if (this.#pointsLost > 0) {
      const text = `Only the first ${mostFindspots} points were read; ${this.#pointsLost} were left out.`
      this.#faults.note(null, 'file-too-large', text)
    }
  }

  #points({ what, shape, texts }: LayerRecord, xy: Float64Array, epsg: number): void {
    const onBad = (field: string, text: string): void =>
      this.#faults.add(null, 'bad-value', `${what}: the ${field} ${quoted(text)} cannot be read.`)
    for (let i = 0; i < xy.length / 2; i++) {
      if (this.findspots.length >= mostFindspots) {
        this.#pointsLost += xy.length / 2 - i
        return
      }
      const [z, m] = [shape.z?.[i] ?? Number.NaN, shape.m?.[i] ?? Number.NaN]
      const properties = new Map(texts)
      if (!Number.isNaN(m)) keepAttribute(properties, 'M', String(m))
      const place = { epsg, x: xy[2 * i]!, y: xy[2 * i + 1]!, elevation: Number.isNaN(z) ? null : z }
      this.findspots.push(findspotFrom({ ...place, name: null, note: null, time: null, properties, onBad }))
    }
  }

  #line({ shape, texts }: LayerRecord, xy: Float64Array, epsg: number): void {
    const { z, m, parts } = shape
    const starts = new Set(parts)
    for (let i = 0; i < xy.length / 2; i++) {
      if (starts.has(i)) this.#builder.startSegment()
      if (m && !Number.isNaN(m[i])) this.#builder.extra('M', String(m[i]))
      this.#builder.push(xy[2 * i]!, xy[2 * i + 1]!, Number.NaN, z?.[i] ?? Number.NaN, Number.NaN)
    }
    const { name, rest } = named(texts)
    const track = { ...this.#builder.finish(name, true, rest), epsg }
    this.#notes.see(track, this.tracks.length, null)
    this.tracks.push(track)
  }

  #area({ what, shape, texts }: LayerRecord, xy: Float64Array, epsg: number): void {
    const rings: Float64Array[] = []
    let flat = 0
    shape.parts.forEach((from, i) => {
      const ring = closed(xy.subarray(2 * from, 2 * (shape.parts[i + 1] ?? xy.length / 2)))
      if (ring.length >= 8 && ringArea(ring) !== 0) rings.push(ring)
      else flat++
    })
    const groups = rings.length === 0 ? 'flat' : (ringsToPolygons(rings, this.#work) ?? 'slow')
    if (typeof groups === 'string') {
      const [code, why] = unusable[groups]
      this.#faults.add(null, code, `${what} was left out: ${why}.`)
      return
    }
    if (flat > 0) {
      const are =
        flat === 1
          ? 'one of its rings encloses no ground and was'
          : `${flat} of its rings enclose no ground and were`
      this.#faults.add(null, 'area-invalid', `${what}: ${are} left out.`)
    }
    if (groups.note !== null) this.#faults.add(null, 'assumed', `${what}: ${groups.note}.`)
    this.#measuresLost ||= shape.m !== null
    const { name, rest } = named(texts)
    this.areas.push({ epsg, name, polygons: groups.polygons, attributes: attributesOf(rest) })
  }
}

/** The positions as they are recorded, or why they cannot be. */
function recorded(
  xy: Float64Array,
  { degrees, convert, epsg, name }: SourceSystem,
): Float64Array | { readonly code: FaultCode; readonly text: string } {
  for (let i = 0; i < xy.length; i += 2) {
    const [x, y] = [Math.abs(xy[i]!), Math.abs(xy[i + 1]!)]
    if (degrees ? x <= 180 && y <= 90 : x <= furthest && y <= furthest) continue
    const what = degrees ? 'no longitude and latitude' : `no position in ${name}`
    return { code: 'coordinate-out-of-range', text: `${xy[i]}, ${xy[i + 1]} is ${what}` }
  }
  if (convert === null) return xy
  const out = new Float64Array(xy.length)
  convert(xy, out)
  const lost = out.findIndex(Number.isNaN)
  if (lost < 0) return out
  const [x, y] = [xy[lost - (lost % 2)], xy[lost - (lost % 2) + 1]]
  const where = epsg === 4326 ? 'what that system reaches' : `what EPSG:${epsg} reaches`
  return { code: 'outside-grid', text: `${x}, ${y} in ${name} lies outside ${where}` }
}

/** Rings that do not end where they begin are closed. */
function closed(ring: Float64Array): Float64Array {
  const n = ring.length
  if (n < 2 || (ring[0] === ring[n - 2] && ring[1] === ring[n - 1])) return ring.slice()
  const whole = new Float64Array(n + 2)
  whole.set(ring)
  whole.set(ring.subarray(0, 2), n)
  return whole
}

function named(texts: ReadonlyMap<string, string>): { name: string | null; rest: Map<string, string> } {
  const rest = new Map(texts)
  const key = [...texts.keys()].find((column) => fieldOf(column)?.field === 'name')
  if (key === undefined) return { name: null, rest }
  rest.delete(key)
  return { name: texts.get(key)!, rest }
}
