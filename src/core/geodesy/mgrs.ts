import { planarGrid } from './planar-grid.ts'
import {
  badCoordinate,
  figures,
  type GridSquare,
  micrometres,
  squareOfFigures,
  squareSize,
  tidyMetres,
  tidyReference,
} from './square-figures.ts'
import { utmCentralMeridian, utmZone } from './utm-zone.ts'

/** A square of the Military Grid Reference System, in the UTM or UPS grid that it is counted in. */
export interface MgrsSquare extends GridSquare {
  readonly epsg: number
}

/** Bands of latitude, 8 degrees each from 80 south; X has 12. */
const bands = 'CDEFGHJKLMNPQRSTUVWX'
/** Columns of 100 km, by zone modulo 3 (zone 1, 2, 3), eight each from easting 100 km. */
const columnSets = ['ABCDEFGH', 'JKLMNPQR', 'STUVWXYZ']
/** Rows of 100 km, repeating every 2000 km; in even zones they begin five letters later. */
const rowLetters = 'ABCDEFGHJKLMNPQRSTUV'
/** Columns of the polar grids west and east of the pole, rows of the south and of the north. */
const polarWest = 'JKLPQRSTUXYZ'
const polarEast = 'ABCFGHJKLPQR'
const polarRows = { 1: 'ABCDEFGHJKLMNP', [-1]: 'ABCDEFGHJKLMNPQRSTUVWXYZ' } as const
const hundredKm = 100_000

/** Band of latitude of a place between 80 south and 84 north. */
export function bandOf(lat: number): string {
  return bands[Math.min(Math.floor((lat + 80) / 8), 19)]!
}

/** West and south edges, in hundreds of kilometres, of the lettered squares around a pole. */
function polarCorner(pole: 1 | -1): { west: number; south: number } {
  return pole === 1 ? { west: 20, south: 13 } : { west: 20, south: 8 }
}

/**
 * MGRS reference of a place, as the square of that many figures (even, 0 to 16) which holds it, written in one run.
 * UTM between 80 S and 84 N (Norway's and Svalbard's zones included), UPS beyond.
 *
 * Source: NGA.STND.0037 (2014), Universal grids and grid reference systems.
 * Faults: RangeError for a latitude or longitude that is none, or an odd number of figures.
 *
 * @example formatMgrs(1.716_038, 52.657_977, 10) // '31UDU1317535008'
 */
export function formatMgrs(lon: number, lat: number, digits: number): string {
  squareSize(digits)
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 360)) throw new RangeError(`no such place: ${lat}, ${lon}`)
  if (lat >= 84 || lat < -80) return formatPolar(lon, lat, digits)
  const zone = utmZone(lon, lat)
  const pair = Float64Array.of(lon, lat)
  planarGrid(32_600 + zone, null).forward(pair, pair)
  const microEast = micrometres(pair[0]!)
  // South of the equator northings are negative here; a multiple of 2000 km changes no letter.
  const microNorth = micrometres(pair[1]! + 10_000_000)
  const column = columnSets[(zone - 1) % 3]!.at(Math.floor(microEast / 1e11) - 1)!
  const row = rowLetters[(Math.floor(microNorth / 1e11) + (zone % 2 === 0 ? 5 : 0)) % 20]!
  return `${zone}${bandOf(lat)}${column}${row}${figures(microEast, digits)}${figures(microNorth, digits)}`
}

function formatPolar(lon: number, lat: number, digits: number): string {
  const pole = lat > 0 ? 1 : -1
  const pair = Float64Array.of(lon, lat)
  planarGrid(pole === 1 ? 5041 : 5042, null).forward(pair, pair)
  const microEast = micrometres(pair[0]!)
  const microNorth = micrometres(pair[1]!)
  const column = Math.floor(microEast / 1e11) - 20
  const east = column >= 0
  const zone = pole === 1 ? (east ? 'Z' : 'Y') : east ? 'B' : 'A'
  const columnLetter = east ? polarEast[column]! : polarWest[12 + column]!
  const row = polarRows[pole][Math.floor(microNorth / 1e11) - polarCorner(pole).south]!
  return `${zone}${columnLetter}${row}${figures(microEast, digits)}${figures(microNorth, digits)}`
}

/**
 * The square that an MGRS reference names, in either case, with or without spaces.
 * Faults: SurveyError('bad-coordinate') with one sentence, also for letters that no square of that zone and band bears.
 */
export function parseMgrs(text: string): MgrsSquare {
  const tidy = tidyReference(text)
  const polar = /^([ABYZ]) ?([A-Z]) ?([A-Z]) ?([\d ]*)$/.exec(tidy)
  if (polar !== null) return parsePolar(polar[1]!, polar[2]!, polar[3]!, polar[4]!, tidy)
  const parts = /^(\d{1,2}) ?([A-Z]) ?([A-Z]) ?([A-Z]) ?([\d ]*)$/.exec(tidy)
  if (parts === null) {
    throw badCoordinate(
      `"${tidy}" is no MGRS reference: zone, band and two letters come first, as in 30U XC.`,
    )
  }
  const [, zoneText, band, columnLetter, rowLetter, tail] = parts as unknown as string[]
  const zone = Number(zoneText)
  const bandIndex = bands.indexOf(band!)
  if (zone < 1 || zone > 60 || bandIndex < 0 || [32, 34, 36].includes(band === 'X' ? zone : 0)) {
    throw badCoordinate(`"${tidy}" has no such zone and band as ${zoneText}${band}.`)
  }
  const column = columnSets[(zone - 1) % 3]!.indexOf(columnLetter!) + 1
  const row = (rowLetters.indexOf(rowLetter!) + (zone % 2 === 0 ? 15 : 0)) % 20
  const square = squareOfFigures(tail!, tidy)
  const floor = bandFloor(zone, bandIndex)
  const rows = Math.ceil((floor - row) / 20)
  const northing = (row + 20 * rows) * hundredKm
  if (
    column < 1 ||
    !rowLetters.includes(rowLetter!) ||
    !touchesBand(zone, bandIndex, column * hundredKm, northing)
  ) {
    throw badCoordinate(
      `"${tidy}" names no square: ${columnLetter}${rowLetter} does not lie in ${zoneText}${band}.`,
    )
  }
  const south = bandIndex < 10
  return {
    epsg: (south ? 32_700 : 32_600) + zone,
    easting: tidyMetres(column * hundredKm + square.easting),
    northing: tidyMetres(northing + square.northing + (south ? 10_000_000 : 0)),
    size: square.size,
  }
}

/** Lowest northing of a band in hundreds of kilometres, rounded down; negative south of the equator. */
function bandFloor(zone: number, bandIndex: number): number {
  const south = bandIndex * 8 - 80
  const middle = utmCentralMeridian(zone)
  // South of the equator a parallel reaches furthest down at the zone's edge, north of it on the central meridian.
  const pair = Float64Array.of(middle + (south < 0 ? 3 : 0), south)
  planarGrid(32_600 + zone, null).forward(pair, pair)
  return Math.floor(pair[1]! / hundredKm + 1e-9)
}

/** True where some part of a 100 km square lies in the band: tried at points along its sides and in its middle. */
function touchesBand(zone: number, bandIndex: number, easting: number, northing: number): boolean {
  const steps = [0, 0.25, 0.5, 0.75, 1]
  const places = steps.flatMap((i) => steps.map((j) => [easting + i * hundredKm, northing + j * hundredKm]))
  const pairs = Float64Array.from(places.flat())
  planarGrid(32_600 + zone, null).inverse(pairs, pairs)
  const bottom = bandIndex * 8 - 80
  const top = bandIndex === 19 ? 84 : bottom + 8
  return places.some((_, k) => pairs[2 * k + 1]! >= bottom - 1e-9 && pairs[2 * k + 1]! <= top + 1e-9)
}

function parsePolar(
  zone: string,
  columnLetter: string,
  rowLetter: string,
  tail: string,
  tidy: string,
): MgrsSquare {
  const pole = zone > 'M' ? 1 : -1
  const east = zone === 'B' || zone === 'Z'
  const corner = polarCorner(pole)
  const column = east ? polarEast.indexOf(columnLetter) : polarWest.indexOf(columnLetter) - 12
  const row = polarRows[pole].indexOf(rowLetter)
  const known = (east ? polarEast : polarWest).includes(columnLetter) && row >= 0
  if (!known || Math.abs(column + 0.5) > 20 - corner.south) {
    throw badCoordinate(`"${tidy}" names no square: ${columnLetter}${rowLetter} does not lie in ${zone}.`)
  }
  const square = squareOfFigures(tail, tidy)
  return {
    epsg: pole === 1 ? 5041 : 5042,
    easting: tidyMetres((corner.west + column) * hundredKm + square.easting),
    northing: tidyMetres((corner.south + row) * hundredKm + square.northing),
    size: square.size,
  }
}
