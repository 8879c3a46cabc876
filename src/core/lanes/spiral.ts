import { SurveyError } from '#core/faults'
import type { PlanarArea } from '#core/geometry'
import { type EdgeBands, edgeBands, onGround, outlineMeetings } from './edge-bands.ts'
import { type LanePlan, walkedPlan } from './lane-plan.ts'
import { checkGround, checkWishes, closedPolygon } from './sound-ground.ts'
import { walkOrder } from './walk-order.ts'

export interface SpiralWishes {
  /** Between the turns of the spiral, metres. */
  readonly spacingM: number
  /** The target it starts from, easting and northing. */
  readonly centre: readonly [x: number, y: number]
  /** How far out it goes, metres; null for as far as the area does. */
  readonly radiusM: number | null
}

/** Chords lie at most this far inside of the curve: a hundredth of the spacing, no finer than a centimetre. */
const sagitta = (spacingM: number): number => Math.max(0.01, spacingM / 100)
/** More corners than this are not drawn. */
const mostCorners = 5_000_000

/**
 * One spiral from a target outward, cut by the area. Its pieces are walked from the target, each time to the nearest that is left, so that
 * beyond the circle that the area holds one corner is walked after another.
 *
 * Method  r = spacing * angle / 2 pi (Archimedes), in chords.
 * Limits  ground near the outline, where the nearest turn of the spiral lies off the area, may be farther than half a spacing from it.
 * Faults  SurveyError: 'no-area', 'area-invalid', 'setting-out-of-range' also where it does not meet the area.
 */
export function spiralPlan(area: PlanarArea, { spacingM, centre, radiusM }: SpiralWishes): LanePlan {
  checkWishes({ spacingM, bearing: null })
  const { notes } = checkGround(area)
  if (radiusM !== null && !(radiusM > 0))
    throw new SurveyError('setting-out-of-range', `The spiral must reach farther than 0 m, not ${radiusM} m.`)
  const polygons = area.polygons.flatMap((polygon) => closedPolygon(polygon) ?? [])
  const reach = Math.min(
    radiusM ?? Infinity,
    farthestCorner(
      polygons.flatMap(({ rings }) => rings),
      centre,
    ),
  )
  const curve = spiral(centre, spacingM, reach)
  const pieces = cutLine(edgeBands({ ...area, polygons }), curve)
  if (pieces.length === 0)
    throw new SurveyError(
      'setting-out-of-range',
      `The spiral from easting ${centre[0].toFixed(1)}, northing ${centre[1].toFixed(1)} does not meet the search area; start it elsewhere or let it reach farther.`,
    )
  const start = Uint32Array.from([0, ...running(pieces.map((piece) => piece.length / 2))])
  const empty = new Float64Array(pieces.length)
  const laid = {
    bearing: Number.NaN,
    xy: Float64Array.from(pieces.flat()),
    start,
    strip: new Uint32Array(pieces.length),
    from: empty,
    to: empty,
  }
  const cells = pieces.map((_, lane) => ({ piece: 0, lanes: Uint32Array.of(lane) }))
  const order = walkOrder([laid], cells, centre)
  return walkedPlan(area, [laid], [0], order, notes)
}

function running(lengths: readonly number[]): number[] {
  let sum = 0
  return lengths.map((length) => {
    sum += length
    return sum
  })
}

function farthestCorner(rings: readonly Float64Array[], [x, y]: readonly [number, number]): number {
  let most = 0
  for (const ring of rings)
    for (let i = 0; i + 1 < ring.length; i += 2)
      most = Math.max(most, Math.sqrt((ring[i]! - x) ** 2 + (ring[i + 1]! - y) ** 2))
  return most
}

function spiral([x, y]: readonly [number, number], spacingM: number, reach: number): Float64Array {
  const growth = spacingM / (2 * Math.PI)
  const last = reach / growth
  const step = (angle: number): number =>
    2 * Math.acos(1 - Math.min(0.2, sagitta(spacingM) / Math.max(growth * angle, spacingM / 4)))
  // The sum of 1 / step along the spiral, a step being 2 sqrt(2 sagitta / r) far out.
  const corners = (Math.sqrt(growth / (2 * sagitta(spacingM))) * last ** 1.5) / 3
  if (corners > mostCorners)
    throw new SurveyError(
      'setting-out-of-range',
      `A spiral with turns ${spacingM} m apart over ${Math.round(reach)} m is too long to be planned; use a wider spacing.`,
    )
  const xy: number[] = []
  for (let angle = 0; ; angle = Math.min(last, angle + step(angle))) {
    xy.push(x + growth * angle * Math.sin(angle), y + growth * angle * Math.cos(angle))
    if (angle >= last) break
  }
  return Float64Array.from(xy)
}

/** The pieces of a line that lie on the ground, as pairs. */
function cutLine(index: EdgeBands, line: Float64Array): number[][] {
  const { originX, originY } = index
  const pieces: number[][] = []
  let piece: number[] = []
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [ax, ay] = [line[i]! - originX, line[i + 1]! - originY]
    const [bx, by] = [line[i + 2]! - originX, line[i + 3]! - originY]
    const cuts = [0, ...outlineMeetings(index, ax, ay, bx, by).map(({ t }) => t), 1]
    for (let c = 0; c + 1 < cuts.length; c++) {
      const [t0, t1] = [cuts[c]!, cuts[c + 1]!]
      if (t1 - t0 < 1e-9) continue
      const middle = (t0 + t1) / 2
      const place = (t: number): [number, number] => [
        ax + t * (bx - ax) + originX,
        ay + t * (by - ay) + originY,
      ]
      if (onGround(index, ax + middle * (bx - ax), ay + middle * (by - ay))) {
        if (piece.length === 0) piece.push(...place(t0))
        piece.push(...place(t1))
      } else if (piece.length > 0) {
        pieces.push(piece)
        piece = []
      }
    }
  }
  if (piece.length > 0) pieces.push(piece)
  return pieces
}
