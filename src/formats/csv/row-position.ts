import { type FaultCode, isSurveyError } from '#core/faults'
import {
  isPlanarGrid,
  parseGridRef,
  parseIrishGridRef,
  parseLatLon,
  parseMgrs,
  squareCentre,
} from '#core/geodesy'
import { type SourceSystem, systemFromEpsg } from '#formats/coordinate-system'
import { decimal } from '#formats/decimal'
import { quoted } from '#formats/fault-list'
import type { Field } from '#formats/fields'
import { cellText } from './table-rows.ts'

/** A position as a row gives it; see RecordedFindspot for CRS and units. */
export interface RowPosition {
  readonly epsg: number
  readonly x: number
  readonly y: number
  /** Half the diagonal of a square; null for coordinates. */
  readonly accuracyM: number | null
  /** The columns that it came from. */
  readonly from: readonly Field[]
}

export interface PositionProblem {
  readonly code: FaultCode
  readonly text: string
}

/** Longest text taken for a position. */
const longestPosition = 200
const angles: readonly Field[] = ['lat', 'lon']
const planar: readonly Field[] = ['easting', 'northing', 'epsg']
const britishGrid = 27_700
const irishGrid = 29_903

/** Reads the position of a row from whichever of its columns are filled: angles, else easting and northing, else a reference. */
export class RowPositions {
  readonly #at: ReadonlyMap<Field, number>
  readonly #comma: boolean
  readonly #epsg: number
  /** Systems that rows named and that are no grid to work in, by their codes; null for codes that are not known. */
  readonly #systems = new Map<number, SourceSystem | null>()
  /** Rows whose easting and northing were taken to be in the assumed grid. */
  assumedGrid = 0

  constructor(at: ReadonlyMap<Field, number>, comma: boolean, epsg: number | undefined) {
    this.#at = at
    this.#comma = comma
    this.#epsg = epsg ?? britishGrid
  }

  read(cells: readonly string[]): RowPosition | PositionProblem {
    const cell = (field: Field): string => cellText(cells[this.#at.get(field) ?? -1])
    const lat = cell('lat')
    const lon = cell('lon')
    if (lat !== '' && lon !== '') return this.#onDatum(this.#angles(lat, lon), cell('epsg'))
    const easting = cell('easting')
    const northing = cell('northing')
    if (easting !== '' && northing !== '') return this.#planar(easting, northing, cell('epsg'))
    for (const field of ['gridRef', 'position'] as const) {
      const reference = cell(field)
      if (reference !== '') return referencePosition(reference, [field])
    }
    return { code: 'bad-value', text: 'it gives no position' }
  }

  number(text: string): number {
    return decimal(this.#comma ? text.replace(',', '.') : text)
  }

  #angles(latText: string, lonText: string): RowPosition | PositionProblem {
    const lat = this.number(latText)
    const lon = this.number(lonText)
    if (Number.isNaN(lat) || Number.isNaN(lon)) return anglePosition(`${latText}, ${lonText}`, angles)
    if (Math.abs(lat) <= 90 && Math.abs(lon) <= 180) {
      return { epsg: 4326, x: lon, y: lat, accuracyM: null, from: angles }
    }
    if (Math.abs(lat) <= 180 && Math.abs(lon) <= 90) {
      return { code: 'coordinates-swapped', text: `latitude ${lat} and longitude ${lon} look swapped` }
    }
    return {
      code: 'coordinate-out-of-range',
      text: `${lat}, ${lon} is no latitude and longitude in degrees`,
    }
  }

  #planar(eastingText: string, northingText: string, epsgText: string): RowPosition | PositionProblem {
    const x = this.number(eastingText)
    const y = this.number(northingText)
    if (Number.isNaN(x) || Number.isNaN(y)) {
      const what = Number.isNaN(x) ? eastingText : northingText
      return { code: 'bad-value', text: `${quoted(what)} is no easting or northing in metres` }
    }
    const stated = codeOf(epsgText)
    const epsg = stated ?? this.#epsg
    const system = isPlanarGrid(epsg) ? undefined : this.#system(epsg)
    if (stated === null && epsgText !== '') {
      return { code: 'bad-value', text: `${quoted(epsgText)} is no grid that is known here` }
    }
    if (system === null) return unknownSystem(epsg)
    if (system !== undefined) return convertedTo(system, x, y, planar)
    if (epsg === britishGrid && outsideBritain(x, y)) return outside(x, y)
    if (stated === null) this.assumedGrid++
    return { epsg, x, y, accuracyM: null, from: planar }
  }

  /** Latitude and longitude on the datum of a geographic system that the row names; WGS84 where it names none or a grid. */
  #onDatum(position: RowPosition | PositionProblem, epsgText: string): RowPosition | PositionProblem {
    const stated = codeOf(epsgText)
    if ('code' in position || stated === null || stated === 4326 || isPlanarGrid(stated)) return position
    const system = this.#system(stated)
    // A system of eastings and northings says nothing of the latitude and longitude beside them.
    if (system === null) return this.#at.has('easting') ? position : unknownSystem(stated)
    if (!system.degrees) return position
    return convertedTo(system, position.x, position.y, [...angles, 'epsg'])
  }

  #system(epsg: number): SourceSystem | null {
    const known = this.#systems.get(epsg)
    if (known !== undefined) return known
    const system = systemFromEpsg(epsg)
    this.#systems.set(epsg, system)
    return system
  }

  /** What a person must know of the systems met. */
  notes(): string[] {
    return [...this.#systems.values()].flatMap((system) => system?.note ?? [])
  }
}

function unknownSystem(epsg: number): PositionProblem {
  const text = `EPSG:${epsg} is no coordinate system that is known here; convert the table to EPSG:4326 or to a grid`
  return { code: 'unknown-system', text }
}

function codeOf(text: string): number | null {
  const code = /^(?:EPSG:)?(\d{4,6})$/i.exec(text)?.[1]
  return code === undefined ? null : Number(code)
}

/** A position of a row as it is recorded: in a grid to work in, or on WGS84. */
function convertedTo(
  { name, epsg, convert, degrees }: SourceSystem,
  x: number,
  y: number,
  from: readonly Field[],
): RowPosition | PositionProblem {
  if (degrees && !(Math.abs(x) <= 180 && Math.abs(y) <= 90)) {
    return { code: 'coordinate-out-of-range', text: `${x}, ${y} is no longitude and latitude in degrees` }
  }
  const pair = Float64Array.of(x, y)
  convert?.(pair, pair)
  const [recordedX, recordedY] = pair as unknown as [number, number]
  if (Number.isNaN(recordedX)) {
    return { code: 'coordinate-out-of-range', text: `${x}, ${y} lies outside what ${name} reaches` }
  }
  if (epsg === britishGrid && outsideBritain(recordedX, recordedY)) return outside(recordedX, recordedY)
  return { epsg, x: recordedX, y: recordedY, accuracyM: null, from }
}

/** The middle of the square that a reference names, with half its diagonal as accuracy. */
function referencePosition(text: string, from: readonly Field[]): RowPosition | PositionProblem {
  try {
    const tidy = text.toUpperCase()
    const square = /^\d{1,2} ?[C-X] ?[A-Z]{2}/.test(tidy)
      ? parseMgrs(text)
      : /^[A-Z] ?\d/.test(tidy)
        ? { ...parseIrishGridRef(text), epsg: irishGrid }
        : /^[A-Z]{2}/.test(tidy)
          ? { ...parseGridRef(text), epsg: britishGrid }
          : null
    if (square === null) return anglePosition(text, from)
    const [x, y] = squareCentre(square)
    if (square.epsg === britishGrid && outsideBritain(x, y)) return outside(x, y)
    return { epsg: square.epsg, x, y, accuracyM: square.size * Math.SQRT1_2, from }
  } catch (cause) {
    return problem(cause)
  }
}

/** Angles in words and signs: 52°39'27"N 1°43'04"E and the like. */
function anglePosition(text: string, from: readonly Field[]): RowPosition | PositionProblem {
  if (text.length > longestPosition) return { code: 'bad-value', text: `${quoted(text)} is no position` }
  try {
    const reading = parseLatLon(text)
    if (reading !== null) return { epsg: 4326, x: reading.lon, y: reading.lat, accuracyM: null, from }
    return { code: 'bad-value', text: `${quoted(text)} is no position` }
  } catch (cause) {
    return problem(cause)
  }
}

function outsideBritain(x: number, y: number): boolean {
  return !(x >= 0 && x <= 700_000 && y >= 0 && y <= 1_300_000)
}

function outside(x: number, y: number): PositionProblem {
  const text = `easting ${x}, northing ${y} lies outside the British National Grid (0 to 700,000 and 0 to 1,300,000 m)`
  return { code: 'coordinate-out-of-range', text }
}

function problem(cause: unknown): PositionProblem {
  if (!isSurveyError(cause)) throw cause
  return { code: cause.code, text: cause.message.replace(/\.$/, '') }
}
