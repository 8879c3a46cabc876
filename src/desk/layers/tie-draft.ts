import type { Layer, Placing } from '#contract'
import { isSurveyError } from '#core/faults'
import { fitAffine, fitProjective } from '#core/imagery'

type Pair = readonly [x: number, y: number]

/** A tie point being made: seen in the picture (column, row), on the ground (easting, northing), or both. */
export interface DraftPoint {
  readonly id: number
  readonly picture: Pair | null
  readonly ground: Pair | null
}
export type Side = 'picture' | 'ground'
export type Method = Placing['method']

export const leastPoints: Readonly<Record<Method, number>> = { affine: 3, projective: 4 }

export function pointsOf({ tiePoints }: Layer): DraftPoint[] {
  return (tiePoints ?? []).map(({ column, row, easting, northing }, i) => ({
    id: i + 1,
    picture: [column, row],
    ground: [easting, northing],
  }))
}

/** The point that a click on one side goes to: the chosen one or another that lacks that side; null for a new one. */
export function pointInHand(
  points: readonly DraftPoint[],
  chosen: number | null,
  side: Side,
): DraftPoint | null {
  const lacking = points.filter((point) => point[side] === null)
  return lacking.find(({ id }) => id === chosen) ?? lacking[0] ?? null
}

/** The points with one side of one of them set anew. */
export function movedPoint(points: readonly DraftPoint[], id: number, side: Side, place: Pair): DraftPoint[] {
  return points.map((point) => (point.id === id ? { ...point, [side]: place } : point))
}

/** A place clicked on one side: it completes the point in hand or begins another. Tells which. */
export function clickedPoint(
  points: readonly DraftPoint[],
  chosen: number | null,
  side: Side,
  place: Pair,
): { readonly points: DraftPoint[]; readonly id: number } {
  const inHand = pointInHand(points, chosen, side)
  if (inHand) return { points: movedPoint(points, inHand.id, side, place), id: inHand.id }
  const id = Math.max(0, ...points.map((point) => point.id)) + 1
  return { points: [...points, { id, picture: null, ground: null, [side]: place }], id }
}

interface CompletePoint extends DraftPoint {
  readonly picture: Pair
  readonly ground: Pair
}
const isComplete = (point: DraftPoint): point is CompletePoint =>
  point.picture !== null && point.ground !== null

/** What the points come to, by id; or why they place nothing yet. */
export type DraftFit =
  | {
      readonly placing: Placing
      readonly residualsM: ReadonlyMap<number, number>
      readonly rmsM: number | null
    }
  | { readonly fault: string }

/** Fits the points that are known on both sides. The sums are those of the server. */
export function fitDraft(points: readonly DraftPoint[], method: Method): DraftFit {
  const complete = points.filter(isComplete)
  const lacking = leastPoints[method] - complete.length
  if (lacking > 0)
    return { fault: `${lacking} more ${lacking === 1 ? 'point' : 'points'} on both sides, at least.` }
  const ties = complete.map(({ picture: [column, row], ground: [easting, northing] }) => ({
    column,
    row,
    easting,
    northing,
  }))
  try {
    const { residualsM, rmsM } = (method === 'affine' ? fitAffine : fitProjective)(ties)
    return {
      placing: { method, points: ties },
      residualsM: new Map(complete.map(({ id }, i) => [id, residualsM[i]!])),
      rmsM,
    }
  } catch (error) {
    if (isSurveyError(error)) return { fault: error.message }
    throw error
  }
}
