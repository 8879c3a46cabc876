import { inverse3, type Placement, product3 } from './placement.ts'
import { checkTiePoints, type FittedPlacement, judged, normalised, type TiePoint } from './tie-points.ts'

/**
 * The affine placement (shift, turn, two scales, shear) that fits three or more tie points best: least squares of the distances on the
 * ground.
 *
 * Method  normal equations about the middle of the points, where the shift drops out and two unknowns a coordinate are left.
 * Source  docs/methods/imagery.md
 * Cost    the square of the number of points, for the check.
 * Faults  SurveyError 'tie-points-weak' for too few, doubled or collinear points.
 */
export function fitAffine(points: readonly TiePoint[]): FittedPlacement {
  checkTiePoints(points, 'affine')
  const { pairs, origin, pictureIn, pictureOut, groundOut, groundIn } = normalised(points)
  let [xx, xy, yy, xu, yu, xv, yv] = [0, 0, 0, 0, 0, 0, 0]
  for (const { x, y, u, v } of pairs) {
    xx += x * x
    xy += x * y
    yy += y * y
    xu += x * u
    yu += y * u
    xv += x * v
    yv += y * v
  }
  const d = xx * yy - xy * xy
  const linear = [
    (xu * yy - yu * xy) / d,
    (yu * xx - xu * xy) / d,
    (xv * yy - yv * xy) / d,
    (yv * xx - xv * xy) / d,
  ]
  const matrix = [linear[0]!, linear[1]!, 0, linear[2]!, linear[3]!, 0, 0, 0, 1]
  const placement: Placement = {
    method: 'affine',
    origin,
    toGround: product3(groundOut, product3(matrix, pictureIn)),
    toPicture: product3(pictureOut, product3(inverse3(matrix), groundIn)),
  }
  return judged(placement, points, 6)
}
