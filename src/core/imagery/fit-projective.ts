import { SurveyError } from '#core/faults'
import { inverse3, type Placement, product3 } from './placement.ts'
import { symmetricEigen } from './symmetric-eigen.ts'
import {
  checkTiePoints,
  type FittedPlacement,
  judged,
  type NormalisedPoints,
  normalised,
  type TiePoint,
} from './tie-points.ts'

const mostSteps = 30

/**
 * The projective placement that fits four or more tie points best: what a level ground looks like to a camera that does not look
 * straight down.
 *
 * Method  normalised direct linear transformation; from there Gauss-Newton steps to the least squares of the distances on the ground.
 * Source  Hartley 1997, In defense of the eight-point algorithm, IEEE PAMI 19, 580 to 593 (normalisation); Hartley and Zisserman 2004,
 *         Multiple View Geometry, 2nd ed., algorithm 4.2.
 * Cost    the square of the number of points, for the check.
 * Faults  SurveyError 'tie-points-weak' for too few or doubled points, for points that are all on a line or all but one, and where the
 *         horizon of the placement would run between them.
 */
export function fitProjective(points: readonly TiePoint[]): FittedPlacement {
  checkTiePoints(points, 'projective')
  const norm = normalised(points)
  const first = directLinear(norm)
  const weights = norm.pairs.map(({ x, y }) => first[6]! * x + first[7]! * y + first[8]!)
  // The middle of the points, where w is the last entry, lies between them: one sign for all is a sign for it.
  if (!(weights.every((w) => w > 0) || weights.every((w) => w < 0)))
    throw new SurveyError(
      'tie-points-weak',
      'No view of level ground looks like these tie points: its horizon would run between them. Check that none are exchanged.',
    )
  const matrix = refined(
    first.map((entry) => entry / first[8]!),
    norm,
  )
  const placement: Placement = {
    method: 'projective',
    origin: norm.origin,
    toGround: product3(norm.groundOut, product3(matrix, norm.pictureIn)),
    toPicture: product3(norm.pictureOut, product3(inverse3(matrix), norm.groundIn)),
  }
  return judged(placement, points, 8)
}

/** The unit vector h that makes the sum of squares of A h least: two rows of A a point. */
function directLinear({ pairs }: NormalisedPoints): number[] {
  const normal = new Float64Array(81)
  const addRow = (row: readonly number[]): void => {
    for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) normal[9 * i + j]! += row[i]! * row[j]!
  }
  for (const { x, y, u, v } of pairs) {
    addRow([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
    addRow([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
  }
  return [...symmetricEigen(normal, 9).vectors.subarray(72)]
}

/** Gauss-Newton over the first eight entries, the last being 1. A step that does not help is halved, and given up in the end. */
function refined(start: readonly number[], norm: NormalisedPoints): number[] {
  let matrix = [...start]
  let squares = squaresOf(matrix, norm)
  for (let step = 0; step < mostSteps; step++) {
    const change = gaussNewtonStep(matrix, norm)
    let share = 1
    let next = moved(matrix, change, share)
    while (!(squaresOf(next, norm) < squares) && share > 1e-3) {
      share /= 2
      next = moved(matrix, change, share)
    }
    const nextSquares = squaresOf(next, norm)
    if (!(nextSquares < squares)) break
    const gained = squares - nextSquares
    matrix = next
    squares = nextSquares
    if (gained <= 1e-15 * squares) break
  }
  return matrix
}

const moved = (matrix: readonly number[], change: Float64Array, share: number): number[] =>
  matrix.map((entry, i) => (i < 8 ? entry + share * change[i]! : entry))

/** Sum of squared distances on the normalised ground; infinite where a point would lie beyond the horizon. */
function squaresOf(m: readonly number[], { pairs }: NormalisedPoints): number {
  let sum = 0
  for (const { x, y, u, v } of pairs) {
    const w = m[6]! * x + m[7]! * y + 1
    if (!(w > 0)) return Infinity
    sum += ((m[0]! * x + m[1]! * y + m[2]!) / w - u) ** 2 + ((m[3]! * x + m[4]! * y + m[5]!) / w - v) ** 2
  }
  return sum
}

function gaussNewtonStep(m: readonly number[], { pairs }: NormalisedPoints): Float64Array {
  const normal = new Float64Array(64)
  const right = new Float64Array(8)
  const add = (row: readonly number[], off: number): void => {
    for (let i = 0; i < 8; i++) {
      right[i]! += row[i]! * off
      for (let j = 0; j < 8; j++) normal[8 * i + j]! += row[i]! * row[j]!
    }
  }
  for (const { x, y, u, v } of pairs) {
    const w = m[6]! * x + m[7]! * y + 1
    const [px, py, one] = [x / w, y / w, 1 / w]
    const [fu, fv] = [m[0]! * px + m[1]! * py + m[2]! * one, m[3]! * px + m[4]! * py + m[5]! * one]
    add([px, py, one, 0, 0, 0, -fu * px, -fu * py], u - fu)
    add([0, 0, 0, px, py, one, -fv * px, -fv * py], v - fv)
  }
  const { values, vectors } = symmetricEigen(normal, 8)
  const change = new Float64Array(8)
  values.forEach((value, k) => {
    if (!(value > 1e-14 * values[0]!)) return
    const vector = vectors.subarray(8 * k, 8 * k + 8)
    const along = vector.reduce((sum, entry, i) => sum + entry * right[i]!, 0) / value
    for (let i = 0; i < 8; i++) change[i]! += along * vector[i]!
  })
  return change
}
