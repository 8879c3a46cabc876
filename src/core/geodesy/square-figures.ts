import { SurveyError } from '#core/faults'

/** A square of a planar grid: its south-west corner and its side, metres. What a grid reference truly says. */
export interface GridSquare {
  readonly easting: number
  readonly northing: number
  readonly size: number
}

/** The 25 letters of a square of squares, from the north-west, row by row; I is left out. */
export const squareLetters = 'ABCDEFGHJKLMNOPQRSTUVWXYZ'
/** The 25 letters of the 2 km tetrads of a 10 km square, from the south-west, column by column; O is left out. */
const tetrads = 'ABCDEFGHIJKLMNPQRSTUVWXYZ'
const quadrants = ['SW', 'SE', 'NW', 'NE']
/** Longer than any reference with its spaces. */
const longest = 60

export function badCoordinate(sentence: string): SurveyError {
  return new SurveyError('bad-coordinate', sentence)
}

/** Side in metres of the square that `digits` figures name: 100 km for none, 1 m for ten, 1 mm for sixteen. */
export function squareSize(digits: number): number {
  if (!(Number.isInteger(digits) && digits >= 0 && digits <= 16 && digits % 2 === 0)) {
    throw new RangeError(`a grid reference has an even number of figures from 0 to 16, not ${digits}`)
  }
  return 10 ** (5 - digits / 2)
}

/** Even number of figures whose square is nearest in size to a precision in metres: 10 for 1 m or finer, 6 for 100 m. */
export function figuresFor(precisionM: number): number {
  return Math.max(10 - 2 * Math.round(Math.log10(Math.max(precisionM, 1))), 0)
}

/** The middle of a square: the best single position for a thing known only to lie in it. */
export function squareCentre(square: GridSquare): [easting: number, northing: number] {
  return [square.easting + square.size / 2, square.northing + square.size / 2]
}

/**
 * A distance in whole micrometres. Figures are counted from it, so that coarser references agree
 * with finer ones to the last figure; what lies within half of one of a line counts as upon it.
 */
export function micrometres(metres: number): number {
  return Math.round(metres * 1e6)
}

/**
 * Half of a reference's figures: those of one axis inside the 100 km square, cut off (never rounded up) so that the
 * square named holds the position. `micro` is counted from any corner of 100 km squares, at or west and south of it.
 */
export function figures(micro: number, digits: number): string {
  const count = Math.floor((micro % 1e11) / Math.round(squareSize(digits) * 1e6))
  return digits === 0 ? '' : String(count).padStart(digits / 2, '0')
}

/** Takes off the noise that decimal fractions of a metre leave (below a hundredth of a millimetre). */
export function tidyMetres(value: number): number {
  return Math.round(value * 1e5) / 1e5
}

/** Upper case, single spaces between runs, no punctuation. Faults: SurveyError for nothing and for far too much. */
export function tidyReference(text: string): string {
  if (text.length > 10 * longest) {
    throw badCoordinate(`The text is ${text.length} characters long; one grid reference has at most some 20.`)
  }
  const tidy = text
    .toUpperCase()
    .replaceAll(/[\s,;:/_-]+/g, ' ')
    .trim()
  if (tidy === '') throw badCoordinate('There is no grid reference: the text is empty.')
  if (tidy.length > longest)
    throw badCoordinate(`"${tidy.slice(0, 24)}…" is too long for one grid reference.`)
  return tidy
}

/**
 * The square inside its 100 km square that the figures after the letters name. `tail` is upper case, in one run or in two
 * of equal length; `whole` is shown in the sentence of a fault.
 */
export function squareOfFigures(tail: string, whole: string): GridSquare {
  const parts = /^(\d*)(?: (\d+))?( ?[A-Z]| ?[NS][EW])?$/.exec(tail)
  if (parts === null)
    throw badCoordinate(`"${whole}" is no grid reference: after the letters come figures only.`)
  const [, first = '', second = '', suffix = ''] = parts
  const digits = first + second
  if (digits.length % 2 === 1) {
    throw badCoordinate(
      `"${whole}" has an odd number of figures (${digits.length}); give as many for east as for north.`,
    )
  }
  if (second !== '' && first.length !== second.length) {
    throw badCoordinate(
      `"${whole}" has ${first.length} figures east and ${second.length} north; give as many of each.`,
    )
  }
  if (digits.length > 16) {
    throw badCoordinate(`"${whole}" has ${digits.length} figures; at most 16 (1 mm) are understood.`)
  }
  const half = digits.length / 2
  const size = squareSize(digits.length)
  const square = {
    easting: Number(digits.slice(0, half)) * size,
    northing: Number(digits.slice(half)) * size,
    size,
  }
  return suffix === '' ? square : subdivide(square, suffix.trim(), whole)
}

/** A tetrad letter (2 km, after two figures) or a quadrant (half of any square). */
function subdivide(square: GridSquare, suffix: string, whole: string): GridSquare {
  const quadrant = quadrants.indexOf(suffix)
  if (quadrant >= 0) {
    const size = square.size / 2
    const north = Math.floor(quadrant / 2)
    return { easting: square.easting + (quadrant % 2) * size, northing: square.northing + north * size, size }
  }
  if (square.size !== 10_000) {
    throw badCoordinate(
      `"${whole}" ends in a letter; only two figures may be followed by one (a 2 km tetrad).`,
    )
  }
  const tetrad = tetrads.indexOf(suffix)
  if (tetrad < 0) throw badCoordinate(`"${whole}" ends in O, which names no tetrad; perhaps a zero is meant.`)
  const size = 2000
  const column = Math.floor(tetrad / 5)
  return { easting: square.easting + column * size, northing: square.northing + (tetrad % 5) * size, size }
}
