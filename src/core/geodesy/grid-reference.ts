import { SurveyError } from '#core/faults'
import {
  badCoordinate,
  figures,
  type GridSquare,
  micrometres,
  squareLetters,
  squareOfFigures,
  squareSize,
  tidyMetres,
  tidyReference,
} from './square-figures.ts'

/** West and south edges, and side, of the great square that all pairs of letters of the National Grid cover. */
const west = -1_000_000
const south = -500_000
const side = 2_500_000

/** Side of the square that the single letters of the Irish Grid cover; its corner is the grid's origin. */
const irishSide = 500_000

function join(letters: string, microEast: number, microNorth: number, digits: number): string {
  return [letters, figures(microEast, digits), figures(microNorth, digits)].filter(Boolean).join(' ')
}

function outside(easting: number, northing: number, grid: string): SurveyError {
  return new SurveyError(
    'outside-grid',
    `Easting ${easting}, northing ${northing} lies outside the lettered squares of the ${grid}.`,
  )
}

/**
 * National Grid reference of a position, as the square of that many figures (even, 0 to 16) which holds it:
 * 6 figures name a 100 m square, 10 a square of 1 m. Written with spaces: `TG 514 131`.
 *
 * A position within half a micrometre of a square's west or south edge counts as upon it.
 * Faults: SurveyError('outside-grid') beyond the lettered squares; RangeError for an odd or absurd number of figures.
 *
 * @example formatGridRef(651_409.903, 313_177.27, 6) // 'TG 514 131'
 */
export function formatGridRef(easting: number, northing: number, digits: number): string {
  squareSize(digits)
  const microEast = micrometres(easting - west)
  const microNorth = micrometres(northing - south)
  const limit = side * 1e6
  if (!(microEast >= 0 && microEast < limit && microNorth >= 0 && microNorth < limit)) {
    throw outside(easting, northing, 'National Grid')
  }
  const column = Math.floor(microEast / 1e11)
  const row = Math.floor(microNorth / 1e11)
  const first = squareLetters[(4 - Math.floor(row / 5)) * 5 + Math.floor(column / 5)]!
  const second = squareLetters[(4 - (row % 5)) * 5 + (column % 5)]!
  return join(first + second, microEast, microNorth, digits)
}

/** The letter's place among the 25, or a fault for the letter I. */
function letterIndex(letter: string, whole: string): number {
  const index = squareLetters.indexOf(letter)
  if (index < 0) {
    throw badCoordinate(
      `"${whole}" has the letter I, which no grid square bears; perhaps J or the figure 1 is meant.`,
    )
  }
  return index
}

/**
 * The square that a National Grid reference names. Two letters, then 0 to 16 figures in equal halves, with or without
 * spaces, in either case; after two figures a tetrad letter (2 km), after any a quadrant (NW, NE, SW, SE).
 * The result is a square, not a point: `size` says how much the reference leaves open.
 *
 * Faults: SurveyError('bad-coordinate') with one sentence.
 *
 * @example parseGridRef('tg514131') // { easting: 651400, northing: 313100, size: 100 }
 */
export function parseGridRef(text: string): GridSquare {
  const tidy = tidyReference(text)
  const [, pair, tail] = /^([A-Z] ?[A-Z])(?![A-Z]) ?(.*)$/.exec(tidy) ?? []
  if (pair === undefined || tail === undefined) {
    throw badCoordinate(
      `"${tidy}" is no National Grid reference: it must begin with two letters, such as SP.`,
    )
  }
  const outer = letterIndex(pair.at(0)!, tidy)
  const inner = letterIndex(pair.at(-1)!, tidy)
  const square = squareOfFigures(tail, tidy)
  const column = (outer % 5) * 5 + (inner % 5)
  const row = (4 - Math.floor(outer / 5)) * 5 + 4 - Math.floor(inner / 5)
  return {
    easting: tidyMetres(west + column * 100_000 + square.easting),
    northing: tidyMetres(south + row * 100_000 + square.northing),
    size: square.size,
  }
}

/**
 * Irish Grid reference of a position in EPSG 29903: one letter, then figures as in `formatGridRef`.
 *
 * @example formatIrishGridRef(315_904, 234_671, 6) // 'O 159 346'
 */
export function formatIrishGridRef(easting: number, northing: number, digits: number): string {
  squareSize(digits)
  const microEast = micrometres(easting)
  const microNorth = micrometres(northing)
  const limit = irishSide * 1e6
  if (!(microEast >= 0 && microEast < limit && microNorth >= 0 && microNorth < limit)) {
    throw outside(easting, northing, 'Irish Grid')
  }
  const letter = squareLetters[(4 - Math.floor(microNorth / 1e11)) * 5 + Math.floor(microEast / 1e11)]!
  return join(letter, microEast, microNorth, digits)
}

/** The square that an Irish Grid reference names (one letter, then as `parseGridRef`). Faults: SurveyError('bad-coordinate'). */
export function parseIrishGridRef(text: string): GridSquare {
  const tidy = tidyReference(text)
  const [, letter, tail] = /^([A-Z])(?![A-Z]) ?(.*)$/.exec(tidy) ?? []
  if (letter === undefined || tail === undefined) {
    throw badCoordinate(`"${tidy}" is no Irish Grid reference: it must begin with one letter, such as O.`)
  }
  const index = letterIndex(letter, tidy)
  const square = squareOfFigures(tail, tidy)
  return {
    easting: tidyMetres((index % 5) * 100_000 + square.easting),
    northing: tidyMetres((4 - Math.floor(index / 5)) * 100_000 + square.northing),
    size: square.size,
  }
}
