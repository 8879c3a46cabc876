import { type FaultCode, isSurveyError } from '#core/faults'
import {
  angularCoordinate,
  type Coordinate,
  type CoordinateContext,
  planarCoordinate,
  squareCoordinate,
} from './coordinate.ts'
import { parseGridRef, parseIrishGridRef } from './grid-reference.ts'
import { parseLatLon } from './latitude-longitude.ts'
import { bandOf, parseMgrs } from './mgrs.ts'
import { isPlanarGrid, planarGrid } from './planar-grid.ts'
import { namedGrid, type PlanarReading, parsePlanarPair, parseUtmText } from './planar-text.ts'
import { badCoordinate } from './square-figures.ts'

/** Longest text taken for one place, and for a list of places. */
const longest = 200
const longestList = 100_000

/**
 * Reads one place in any notation: latitude and longitude in all their spellings, National Grid and Irish Grid references
 * (0 to 16 figures, tetrads, quadrants), MGRS, UTM, UPS, plain eastings and northings with or without a grid's name.
 *
 * Faults: SurveyError('bad-coordinate') where the text is none, SurveyError('outside-grid') where the place lies outside the
 * grid that the text names; one sentence each.
 *
 * @example parseCoordinate('tg 514 131', { shift }).square // { easting: 651400, northing: 313100, size: 100 }
 */
export function parseCoordinate(text: string, context: CoordinateContext): Coordinate {
  if (text.length > longest) {
    throw badCoordinate(
      `The text is ${text.length} characters long; one place takes at most ${longest}: give one at a time.`,
    )
  }
  const trimmed = text.trim()
  if (trimmed === '') throw badCoordinate('There is no coordinate: the text is empty.')
  const spaced = trimmed
    .toUpperCase()
    .replaceAll(/(?<!\d),|,(?!\d)|[\s:=;/_]+/g, ' ')
    .replaceAll(/ +/g, ' ')
    .trim()
  const read = readReference(spaced, context) ?? readPlanar(spaced, context) ?? readAngles(trimmed)
  if (read !== null) return read
  const shown = trimmed.length > 40 ? `${trimmed.slice(0, 40)}…` : trimmed
  throw badCoordinate(
    `"${shown}" is no coordinate in a known notation; write it like 52.6580, 1.7160 or TG 51409 13177.`,
  )
}

/** References by letters and figures; null where the text has not their shape. `spaced` is upper case. */
function readReference(spaced: string, context: CoordinateContext): Coordinate | null {
  const { epsg, rest } = namedGrid(spaced.replace(/^MGRS /, ''))
  if (epsg === null && /^(?:\d{1,2} ?[A-Z] ?[A-Z] ?[A-Z]|[ABYZ] ?[A-Z] ?[A-Z])[\d ,]*$/.test(rest)) {
    const { epsg: of, ...square } = parseMgrs(rest)
    const reference = rest.replaceAll(/[ ,]/g, '').replace(/^0/, '')
    return squareCoordinate('mgrs', planarGrid(of, null), square, reference)
  }
  if (epsg !== 29_903 && /^[A-Z] ?[A-Z](?: ?\d.*)?$/.test(rest)) {
    const square = parseGridRef(rest)
    return squareCoordinate('national-grid-reference', planarGrid(27_700, context.shift), square, usual(rest))
  }
  if (epsg !== 27_700 && /^[A-Z](?: ?\d[^.NSEW°'"]*(?: ?[NS][EW])?)?$/.test(rest)) {
    const square = parseIrishGridRef(rest)
    return squareCoordinate('irish-grid-reference', planarGrid(29_903, null), square, usual(rest))
  }
  return null
}

/** A lettered reference in its usual spelling: letters, easting, northing with spaces between; in one run with a suffix. */
function usual(rest: string): string {
  const run = rest.replaceAll(/[^A-Z\d]/g, '')
  const [, letters = '', digits = '', suffix = ''] = /^([A-Z]+)(\d*)([A-Z]*)$/.exec(run) ?? []
  const half = digits.length / 2
  if (suffix !== '') return run
  return [letters, digits.slice(0, half), digits.slice(half)].filter(Boolean).join(' ')
}

/** UTM, UPS and plain metres; a single comma between two numbers may stand for the space. */
function readPlanar(spaced: string, context: CoordinateContext): Coordinate | null {
  const single = spaced.match(/,/g)?.length === 1 ? spaced.replace(',', ' ') : spaced
  const utm = parseUtmText(single)
  const reading = utm ?? parsePlanarPair(single)
  if (reading === null) return null
  const epsg = reading.epsg ?? context.epsg ?? 27_700
  if (!isPlanarGrid(epsg)) {
    throw badCoordinate(
      `EPSG ${epsg} is no grid known here; those known are 27700, 29903, 2157, UTM and UPS.`,
    )
  }
  const assumed = reading.epsg === null && context.epsg === undefined
  try {
    const notation = utm === null ? 'easting-northing' : 'utm'
    const place = planarCoordinate(notation, planarGrid(epsg, context.shift), reading, [
      ...reading.warnings,
      ...(assumed ? ['The text names no grid; it was read as British National Grid.'] : []),
    ])
    return checkBand(place, reading)
  } catch (error) {
    if (!assumed || !isSurveyError(error)) throw error
    throw badCoordinate(
      `Easting ${reading.easting}, northing ${reading.northing} lies outside the British National Grid and the text names no other; put ITM, or the UTM zone such as 30N, before it.`,
    )
  }
}

/** Adds a warning where a UTM text names a band of latitude in which the place does not lie. */
function checkBand(place: Coordinate, reading: PlanarReading): Coordinate {
  if (reading.band === null || reading.band === bandOf(place.lat)) return place
  const warning = `The place lies in band ${bandOf(place.lat)}, not ${reading.band}; the figures were believed.`
  return { ...place, warnings: [...place.warnings, warning] }
}

function readAngles(trimmed: string): Coordinate | null {
  const read = parseLatLon(trimmed)
  return read === null ? null : angularCoordinate(read.lon, read.lat, read, read.warnings)
}

/** One place of a list: what stood there, and what it is or why it is none. */
export type CoordinateReading =
  | { readonly text: string; readonly coordinate: Coordinate }
  | { readonly text: string; readonly fault: string; readonly code: FaultCode }

/**
 * Reads several places: one a line, or several a line set apart by semicolons or bars, or by commas, or (references written
 * in one run) by spaces. A line is first tried as a single place, so that `52.6; 1.7` stays one.
 * Faults: SurveyError('bad-coordinate') for more than 100,000 characters; others are told place by place.
 */
export function parseCoordinates(text: string, context: CoordinateContext): CoordinateReading[] {
  if (text.length > longestList) {
    throw badCoordinate(
      `The text is ${text.length} characters long; at most ${longestList} are read at once: use a CSV file instead.`,
    )
  }
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '')
  return lines.flatMap((line) => readLine(line.trim(), context))
}

function readLine(line: string, context: CoordinateContext): CoordinateReading[] {
  const whole = readOne(line, context)
  if ('coordinate' in whole) return [whole]
  for (const separator of [/[;|]/, /,/, /\s+/]) {
    const parts = line
      .split(separator)
      .map((part) => part.trim())
      .filter(Boolean)
    if (parts.length < 2) continue
    const readings = parts.map((part) => readOne(part, context))
    if (readings.every((reading) => 'coordinate' in reading)) return readings
    if (separator.test(';') && parts.length > 2) return readings
  }
  return [whole]
}

function readOne(text: string, context: CoordinateContext): CoordinateReading {
  try {
    return { text, coordinate: parseCoordinate(text, context) }
  } catch (error) {
    if (!isSurveyError(error)) throw error
    return { text, fault: error.message, code: error.code }
  }
}
