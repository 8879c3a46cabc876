import { SurveyError } from '#core/faults'
import { groundAt, type Placement } from './placement.ts'
import { symmetricEigen } from './symmetric-eigen.ts'

/** A point known in the picture (pixels from the corner of the upper left pixel) and on the ground (metres in a planar grid). */
export interface TiePoint {
  readonly column: number
  readonly row: number
  readonly easting: number
  readonly northing: number
}

/** A placement found from tie points, and how well they agree with it. */
export interface FittedPlacement {
  readonly placement: Placement
  /** How far from its ground point each picture point is laid, metres, in the order of the points. */
  readonly residualsM: number[]
  /**
   * Root of the sum of squared residuals over the degrees of freedom left (two a point, less 6 or 8): the standard error of one
   * coordinate, metres. A place is off by some 1.4 times as much. Null where none is left: the points then fit whatever they are.
   */
  readonly rmsM: number | null
  readonly degreesOfFreedom: number
}

type Pair = readonly [number, number]

/** Points nearer to each other than this share of the spread of all are one point given twice. */
const doubledShare = 1e-3
/** Points are on one line where they spread across it less than this share of their spread along it (our choice). */
const lineShare = 0.02

/**
 * Refuses tie points that do not pin a picture down: too few, one given twice, all on a line; for a projective placing also all but one on
 * a line. Cost: the square of the number of points. Faults: SurveyError 'tie-points-weak'; RangeError for what is not a number.
 */
export function checkTiePoints(points: readonly TiePoint[], method: Placement['method']): void {
  for (const { column, row, easting, northing } of points)
    if (![column, row, easting, northing].every(Number.isFinite))
      throw new RangeError('tie points are finite numbers')
  const needed = method === 'affine' ? 3 : 4
  if (points.length < needed)
    throw weak(
      `${needed === 3 ? 'Three' : 'Four'} tie points at least are needed; there are ${points.length}.`,
    )
  const places: [string, Pair[]][] = [
    ['in the picture', points.map(({ column, row }): Pair => [column, row])],
    ['on the ground', points.map(({ easting, northing }): Pair => [easting, northing])],
  ]
  for (const [where, pairs] of places) {
    refuseDoubled(pairs, where)
    if (onOneLine(pairs))
      throw weak(`The tie points lie on one line ${where}, or nearly; add one well to the side of it.`)
    if (method === 'affine') continue
    for (const i of pairs.keys())
      if (onOneLine(pairs.toSpliced(i, 1)))
        throw weak(
          `All tie points but number ${i + 1} lie on one line ${where}, or nearly; add another to the side of it, or place the picture affinely.`,
        )
  }
}

const weak = (sentence: string): SurveyError => new SurveyError('tie-points-weak', sentence)

/** Moments of pairs about their middle: mean of dx dx, dx dy, dy dy. */
function moments(pairs: readonly Pair[]): [number, number, number] {
  const n = pairs.length
  const x = pairs.reduce((sum, pair) => sum + pair[0], 0) / n
  const y = pairs.reduce((sum, pair) => sum + pair[1], 0) / n
  return pairs.reduce<[number, number, number]>(
    ([xx, xy, yy], [px, py]) => [
      xx + ((px - x) * (px - x)) / n,
      xy + ((px - x) * (py - y)) / n,
      yy + ((py - y) * (py - y)) / n,
    ],
    [0, 0, 0],
  )
}

function refuseDoubled(pairs: readonly Pair[], where: string): void {
  const [xx, , yy] = moments(pairs)
  const least = doubledShare * Math.sqrt(xx + yy)
  pairs.forEach(([x, y], i) => {
    const other = pairs.findIndex((pair, j) => j > i && Math.hypot(pair[0] - x, pair[1] - y) <= least)
    if (other >= 0)
      throw weak(
        `Tie points ${i + 1} and ${other + 1} are at the same spot ${where}; move one, or take it away.`,
      )
  })
}

function onOneLine(pairs: readonly Pair[]): boolean {
  const [xx, xy, yy] = moments(pairs)
  const [along, across] = symmetricEigen([xx, xy, xy, yy], 2).values
  return !(across! > lineShare * lineShare * along!)
}

/** How well a placement agrees with the points it was found from by `parameters` numbers. */
export function judged(
  placement: Placement,
  points: readonly TiePoint[],
  parameters: number,
): FittedPlacement {
  const residualsM = points.map(({ column, row, easting, northing }) => {
    const [e, n] = groundAt(placement, column, row)
    return Math.hypot(e - easting, n - northing)
  })
  const degreesOfFreedom = 2 * points.length - parameters
  const squares = residualsM.reduce((sum, residual) => sum + residual * residual, 0)
  const rmsM = degreesOfFreedom > 0 ? Math.sqrt(squares / degreesOfFreedom) : null
  return { placement, residualsM, rmsM, degreesOfFreedom }
}

/** Middle of some pairs, and the factor that makes their mean distance from it the root of two (Hartley 1997, section 4). */
function normalisationOf(pairs: readonly Pair[]): { readonly middle: Pair; readonly scale: number } {
  const n = pairs.length
  const x = pairs.reduce((sum, pair) => sum + pair[0], 0) / n
  const y = pairs.reduce((sum, pair) => sum + pair[1], 0) / n
  const distance = pairs.reduce((sum, pair) => sum + Math.hypot(pair[0] - x, pair[1] - y), 0) / n
  return { middle: [x, y], scale: Math.SQRT2 / distance }
}

/** Tie points with both sides so normalised: `x`, `y` in the picture, `u`, `v` on the ground; the ground's middle is the origin. */
export interface NormalisedPoints {
  readonly pairs: readonly {
    readonly x: number
    readonly y: number
    readonly u: number
    readonly v: number
  }[]
  readonly origin: Pair
  /** Picture to normalised picture, normalised picture to picture; normalised ground to metres from the origin, and back. */
  readonly pictureIn: readonly number[]
  readonly pictureOut: readonly number[]
  readonly groundOut: readonly number[]
  readonly groundIn: readonly number[]
}

export function normalised(points: readonly TiePoint[]): NormalisedPoints {
  const picture = normalisationOf(points.map(({ column, row }): Pair => [column, row]))
  const ground = normalisationOf(points.map(({ easting, northing }): Pair => [easting, northing]))
  const [s, g] = [picture.scale, ground.scale]
  const [cx, cy] = picture.middle
  const pairs = points.map(({ column, row, easting, northing }) => ({
    x: s * (column - cx),
    y: s * (row - cy),
    u: g * (easting - ground.middle[0]),
    v: g * (northing - ground.middle[1]),
  }))
  return {
    pairs,
    origin: ground.middle,
    pictureIn: [s, 0, -s * cx, 0, s, -s * cy, 0, 0, 1],
    pictureOut: [1 / s, 0, cx, 0, 1 / s, cy, 0, 0, 1],
    groundOut: [1 / g, 0, 0, 0, 1 / g, 0, 0, 0, 1],
    groundIn: [g, 0, 0, 0, g, 0, 0, 0, 1],
  }
}
