import { SurveyError } from '#core/faults'

/** A square of a planar grid: its south-west corner and its side, metres. What a grid reference truly says. */
export interface GridSquare {
  readonly easting: number
  readonly northing: number
  readonly size: number
}

/** The 25 letters of a square of squares, from the north-west, row by row; I is left out. */
const letters = 'ABCDEFGHJKLMNOPQRSTUVWXYZ'
/** The 25 letters of the 2 km tetrads of a 10 km square, from the south-west, column by column; O is left out. */
const tetrads = 'ABCDEFGHIJKLMNPQRSTUVWXYZ'
const quadrants = ['SW', 'SE', 'NW', 'NE']
const longest = 60

/** West and south edges of the 2500 km square that all pairs of letters cover. */
const west = -1_000_000
const south = -500_000
const side = 2_500_000

function bad(sentence: string): SurveyError {
  return new SurveyError('bad-coordinate', sentence)
}

/** Side in metres of the square that `digits` figures name: 100 km for none, 1 m for ten, 1 mm for sixteen. */
export function squareSize(digits: number): number {
  if (!(Number.isInteger(digits) && digits >= 0 && digits <= 16 && digits % 2 === 0)) {
    throw new RangeError(`a grid reference has an even number of figures from 0 to 16, not ${digits}`)
  }
  return 10 ** (5 - digits / 2)
}

/**
 * Figures of a position inside its 100 km square, cut off (never rounded up) so that the square named holds the position.
 * All is counted in tenths of a millimetre, so that coarser references agree with finer ones to the last figure.
 */
export function figuresOf(fine: number, digits: number): string {
  const half = digits / 2
  const count = Math.floor((fine % 1e9) / Math.round(squareSize(digits) * 1e4))
  return half === 0 ? '' : String(count).padStart(half, '0')
}

/**
 * National Grid reference of a position, as the square of that many figures (even, 0 to 16) which holds it:
 * 6 figures name a 100 m square, 10 a square of 1 m. Written with spaces: `TG 514 131`.
 *
 * A position within 0.05 mm of a square's west or south edge counts as upon it.
 * Faults: SurveyError('outside-grid') beyond the lettered squares; RangeError for an odd or absurd number of figures.
 *
 * @example formatGridRef(651_409.903, 313_177.27, 6) // 'TG 514 131'
 */
export function formatGridRef(easting: number, northing: number, digits: number): string {
  squareSize(digits)
  const fineEast = Math.round((easting - west) * 1e4)
  const fineNorth = Math.round((northing - south) * 1e4)
  const limit = side * 1e4
  if (!(fineEast >= 0 && fineEast < limit && fineNorth >= 0 && fineNorth < limit)) {
    throw new SurveyError(
      'outside-grid',
      `Easting ${easting}, northing ${northing} lies outside the lettered squares of the National Grid.`,
    )
  }
  const column = Math.floor(fineEast / 1e9)
  const row = Math.floor(fineNorth / 1e9)
  const first = letters[(4 - Math.floor(row / 5)) * 5 + Math.floor(column / 5)]!
  const second = letters[(4 - (row % 5)) * 5 + (column % 5)]!
  return [first + second, figuresOf(fineEast, digits), figuresOf(fineNorth, digits)].filter(Boolean).join(' ')
}

/** What follows the letters, as an offset inside the 100 km square and a side. */
function withinSquare(tail: string, whole: string): GridSquare {
  const parts = /^(\d*)(?: (\d+))?( ?[A-Z]| ?[NS][EW])?$/.exec(tail)
  if (parts === null) throw bad(`"${whole}" is not a grid reference: after the letters come figures only.`)
  const [, first = '', second = '', suffix = ''] = parts
  const digits = first + second
  if (digits.length % 2 === 1) {
    throw bad(
      `"${whole}" has ${digits.length} figures; a grid reference has an even number, half for each axis.`,
    )
  }
  if (second !== '' && first.length !== second.length) {
    throw bad(`"${whole}" has ${first.length} figures east and ${second.length} north; give as many of each.`)
  }
  if (digits.length > 16)
    throw bad(`"${whole}" has ${digits.length} figures; at most 16 (1 mm) are understood.`)
  const half = digits.length / 2
  const size = squareSize(digits.length)
  const at = {
    easting: Number(digits.slice(0, half)) * size,
    northing: Number(digits.slice(half)) * size,
    size,
  }
  return suffix === '' ? at : subdivide(at, suffix.trim(), whole)
}

/** A tetrad letter (2 km) or a quadrant (5 km, or half of a smaller square). */
function subdivide(square: GridSquare, suffix: string, whole: string): GridSquare {
  const quadrant = quadrants.indexOf(suffix)
  if (quadrant >= 0) {
    const size = square.size / 2
    const north = Math.floor(quadrant / 2)
    return { easting: square.easting + (quadrant % 2) * size, northing: square.northing + north * size, size }
  }
  const tetrad = tetrads.indexOf(suffix)
  if (tetrad < 0)
    throw bad(`"${whole}" ends in the letter O, which names no tetrad; perhaps a zero is meant.`)
  if (square.size !== 10_000)
    throw bad(`"${whole}" ends in a letter; only two figures may be followed by a tetrad.`)
  const size = 2000
  return {
    easting: square.easting + Math.floor(tetrad / 5) * size,
    northing: square.northing + (tetrad % 5) * size,
    size,
  }
}

/** Upper case, single spaces between runs, no punctuation. Faults: SurveyError for nothing and for far too much. */
export function tidyReference(text: string): string {
  if (text.length > 10 * longest) {
    throw bad(
      `That text is ${text.length} characters long; a grid reference has at most some 20: give one place.`,
    )
  }
  const tidy = text
    .toUpperCase()
    .replaceAll(/[\s,;:/_-]+/g, ' ')
    .trim()
  if (tidy === '') throw bad('There is no grid reference: the text is empty.')
  if (tidy.length > longest) throw bad(`"${tidy.slice(0, 24)}…" is too long for one grid reference.`)
  return tidy
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
    throw bad(`"${tidy}" is not a National Grid reference: it must begin with two letters, such as SP.`)
  }
  const [first, second] = pair.replace(' ', '') as unknown as [string, string]
  const outer = letters.indexOf(first)
  const inner = letters.indexOf(second)
  if (outer < 0 || inner < 0) {
    throw bad(`"${tidy}" has the letter I, which no grid square bears; perhaps J or the figure 1 is meant.`)
  }
  const at = withinSquare(tail, tidy)
  const column = (outer % 5) * 5 + (inner % 5)
  const row = (4 - Math.floor(outer / 5)) * 5 + 4 - Math.floor(inner / 5)
  return {
    easting: tidyMetres(west + column * 100_000 + at.easting),
    northing: tidyMetres(south + row * 100_000 + at.northing),
    size: at.size,
  }
}

/** Takes off the noise that decimal fractions of a metre leave (below a hundredth of a millimetre). */
export function tidyMetres(value: number): number {
  return Math.round(value * 1e5) / 1e5
}
