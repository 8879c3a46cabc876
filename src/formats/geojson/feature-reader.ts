import type { Polygon } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { type FaultList, quoted } from '#formats/fault-list'
import { fieldOf, findspotFrom } from '#formats/fields'
import { statesZone, timeSeconds } from '#formats/time'
import { attributesOf, keepAttribute, TrackBuilder, TrackNotes } from '#formats/track'
import { arrayOf, type Positions, polygonFrom, positions } from './positions.ts'
import { Rejected } from './rejected.ts'

type Members = Readonly<Record<string, unknown>>

/** Collections in collections; RFC 7946 section 3.1.8 advises against any. */
const deepest = 8

export function isObject(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/** What one feature gave; taken over only once the whole feature is found good. */
interface Harvest {
  readonly lines: Positions[][]
  readonly polygons: Polygon[][]
  readonly points: Positions[]
}

/** Turns features and bare geometries into areas, tracks and findspots. A feature is taken whole or not at all. */
export class FeatureReader {
  readonly tracks: RecordedTrack[] = []
  readonly areas: RecordedArea[] = []
  readonly findspots: RecordedFindspot[] = []
  readonly #faults: FaultList
  readonly #notes = new TrackNotes()
  readonly #builder = new TrackBuilder()
  #zoneless = false

  constructor(faults: FaultList) {
    this.#faults = faults
  }

  /** `what` names the feature in sentences; `line` is asked for only if there is something to say. */
  feature(feature: unknown, what: string, line: () => number | null): void {
    try {
      if (!isObject(feature) || feature.type !== 'Feature') {
        throw new Rejected('bad-value', 'it is not an object of type Feature')
      }
      rejectOtherCrs(feature)
      const { geometry, properties = null } = feature
      if (properties !== null && !isObject(properties)) {
        throw new Rejected('bad-value', 'its properties are not an object')
      }
      if (geometry === undefined) throw new Rejected('bad-value', 'it has no member "geometry"')
      const harvest: Harvest = { lines: [], polygons: [], points: [] }
      if (geometry !== null) this.#gather(geometry, harvest, 0)
      if (harvest.lines.length + harvest.polygons.length + harvest.points.length === 0) {
        throw new Rejected('unsupported-feature', 'it has no position')
      }
      this.#take(harvest, propertiesOf(feature.id, properties ?? {}), properties ?? {}, what, line)
    } catch (cause) {
      if (!(cause instanceof Rejected)) throw cause
      this.#faults.add(line(), cause.code, `${what} was left out: ${cause.message}.`)
    }
  }

  finish(): void {
    this.#notes.tell(this.#faults)
    if (this.#zoneless) this.#faults.note(null, 'assumed', 'Times name no zone; they were taken as UTC.')
  }

  #gather(geometry: unknown, harvest: Harvest, depth: number): void {
    if (!isObject(geometry)) throw new Rejected('bad-value', 'its geometry is not an object')
    rejectOtherCrs(geometry)
    const { type, coordinates } = geometry
    if (typeof type !== 'string') throw new Rejected('bad-value', 'its geometry has no type')
    switch (type) {
      case 'Point':
        if (!isEmpty(coordinates)) harvest.points.push(positions([coordinates]))
        break
      case 'MultiPoint':
        if (!isEmpty(coordinates)) harvest.points.push(positions(coordinates))
        break
      case 'LineString':
        if (!isEmpty(coordinates)) harvest.lines.push([line(coordinates)])
        break
      case 'MultiLineString':
        if (!isEmpty(coordinates)) harvest.lines.push(arrayOf(coordinates, 'coordinates').map(line))
        break
      case 'Polygon':
        harvestPolygons([coordinates], harvest)
        break
      case 'MultiPolygon':
        harvestPolygons(arrayOf(coordinates, 'coordinates'), harvest)
        break
      case 'GeometryCollection':
        if (depth >= deepest) throw new Rejected('unsafe-file', `collections lie more than ${deepest} deep`)
        for (const part of arrayOf(geometry.geometries, 'geometries')) this.#gather(part, harvest, depth + 1)
        break
      default:
        throw new Rejected('bad-value', `${quoted(type)} is no type of geometry`)
    }
  }

  #take(
    harvest: Harvest,
    texts: Map<string, string>,
    properties: Members,
    what: string,
    line: () => number | null,
  ): void {
    const nameKey = [...texts.keys()].find((key) => fieldOf(key)?.field === 'name')
    const name = nameKey === undefined ? null : (texts.get(nameKey) ?? null)
    for (const { xy, z } of harvest.points) {
      for (let i = 0; i < z.length; i++) {
        const onBad = (field: string, text: string): void =>
          this.#faults.add(line(), 'bad-value', `${what}: the ${field} ${quoted(text)} cannot be read.`)
        const spot = { epsg: 4326, x: xy[2 * i]!, y: xy[2 * i + 1]!, name: null, note: null, time: null }
        const elevation = Number.isNaN(z[i]) ? null : z[i]!
        this.findspots.push(findspotFrom({ ...spot, elevation, properties: texts, onBad }))
      }
    }
    const rest = new Map(texts)
    if (nameKey !== undefined) rest.delete(nameKey)
    for (const polygons of harvest.polygons) {
      this.areas.push({ epsg: 4326, name, polygons, attributes: attributesOf(rest) })
    }
    for (const lines of harvest.lines) this.#takeTrack(lines, name, rest, properties, what, line)
  }

  #takeTrack(
    lines: readonly Positions[],
    name: string | null,
    texts: ReadonlyMap<string, string>,
    properties: Members,
    what: string,
    line: () => number | null,
  ): void {
    const attributes = new Map(texts)
    const times = this.#timesOf(lines, properties, attributes, what, line)
    const walked = properties.walked !== false
    if (!walked) attributes.delete('walked')
    let fix = 0
    for (const { xy, z } of lines) {
      this.#builder.startSegment()
      for (let i = 0; i < z.length; i++) {
        this.#builder.push(xy[2 * i]!, xy[2 * i + 1]!, times?.[fix] ?? Number.NaN, z[i]!, Number.NaN)
        fix++
      }
    }
    const track = this.#builder.finish(name, walked, attributes)
    this.#notes.see(track, this.tracks.length, null)
    this.tracks.push(track)
  }

  /** Times of the fixes from `coordTimes`, `times` or `coordinateProperties.times`, nested like the coordinates or flat. */
  #timesOf(
    lines: readonly Positions[],
    properties: Members,
    attributes: Map<string, string>,
    what: string,
    line: () => number | null,
  ): number[] | null {
    const key = ['coordTimes', 'times'].find((name) => Array.isArray(properties[name]))
    const { coordinateProperties } = properties
    const given =
      key !== undefined
        ? properties[key]
        : isObject(coordinateProperties)
          ? coordinateProperties.times
          : undefined
    if (!Array.isArray(given)) return null
    const texts = given.flat().map(timeText)
    const fixes = lines.reduce((sum, { z }) => sum + z.length, 0)
    const times = texts.map(timeSeconds)
    if (texts.length !== fixes || texts.some((text, i) => text !== '' && Number.isNaN(times[i]))) {
      const why =
        texts.length === fixes ? 'one cannot be read' : `there are ${texts.length} for ${fixes} fixes`
      this.#faults.add(line(), 'bad-value', `${what}: its times were left out, since ${why}.`)
      return null
    }
    this.#zoneless ||= texts.some((text) => text.includes(':') && !statesZone(text.trim()))
    attributes.delete(key ?? 'coordinateProperties')
    if (key === undefined && isObject(coordinateProperties)) {
      const { times: _times, ...others } = coordinateProperties
      if (Object.keys(others).length > 0) attributes.set('coordinateProperties', jsonText(others))
    }
    return times
  }
}

/** A time as text; nothing for null, and what no time is for anything else. */
function timeText(time: unknown): string {
  if (time === null) return ''
  return typeof time === 'string' || typeof time === 'number' ? String(time) : '?'
}

function harvestPolygons(list: readonly unknown[], harvest: Harvest): void {
  const polygons = list.map(polygonFrom).filter((polygon) => polygon !== null)
  if (polygons.length > 0) harvest.polygons.push(polygons)
}

function line(value: unknown): Positions {
  const found = positions(value)
  if (found.z.length < 2) throw new Rejected('bad-value', 'a line has fewer than two positions')
  return found
}

/** An empty `coordinates` means no geometry (RFC 7946 section 3.1). */
function isEmpty(coordinates: unknown): boolean {
  return Array.isArray(coordinates) && coordinates.length === 0
}

/** Properties as texts, in their order: text as it is, the rest as JSON; null and nothing are left out. */
function propertiesOf(id: unknown, properties: Members): Map<string, string> {
  const texts = new Map<string, string>()
  for (const [key, value] of Object.entries(properties)) {
    if (value === null || value === undefined) continue
    texts.set(key, typeof value === 'string' ? value : jsonText(value))
  }
  if (typeof id === 'string' || typeof id === 'number') keepAttribute(texts, 'id', String(id))
  return texts
}

/** The value as JSON. One nested so deep that the engine gives up is not kept, and neither is its feature. */
function jsonText(value: unknown): string {
  try {
    return JSON.stringify(value)
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause
    throw new Rejected('unsafe-file', 'one of its properties is nested too deep')
  }
}

/** RFC 7946 section 4 knows one reference system. An older `crs` member is let pass only if it names that one. */
export function rejectOtherCrs(object: Members): void {
  const { crs } = object
  if (crs === undefined || crs === null) return
  const name = isObject(crs) && isObject(crs.properties) ? crs.properties.name : crs
  if (typeof name === 'string' && /(CRS:?84|EPSG:(:|[\d.]+:)?4326)$/i.test(name)) return
  const said = typeof name === 'string' ? quoted(name) : 'one that is not named'
  throw new Rejected(
    'unsupported-feature',
    `it states the reference system ${said}, and GeoJSON (RFC 7946) has longitude and latitude on WGS84 only; convert it to EPSG:4326`,
  )
}
