import { pointInPolygon } from '#core/geometry'
import { type ConstraintIndex, constraintIndex } from './constraint-index.ts'
import { segmentDistance } from './segment-distance.ts'
import { eachSegment, firstPlaces, type Shape, shapeBounds } from './shape.ts'

/** Something that is planned and comes too near to something that is to be left alone. */
export interface Clash {
  /** Index of what is planned, and of the constraint. */
  readonly planned: number
  readonly constraint: number
  /** Metres between the two; 0 where they meet or one holds the other. */
  readonly distanceM: number
  /** The place of what is planned that comes nearest. */
  readonly x: number
  readonly y: number
}

/**
 * All that is planned (search areas, targets, lanes) that lies within a buffer of a constraint, with how near it comes: one clash for each two
 * that clash, in the order of what is planned, the nearest constraint first.
 *
 * CRS     all in one planar grid, metres.
 * Method  least distance between segments; what meets no edge lies in a polygon wholly or not at all, which one of its places tells.
 * Cost    segments are compared only where they share a bin about as wide as constraints are apart.
 * Faults  RangeError for a buffer below 0. Places that are NaN clash with nothing.
 */
export function clashesOf(
  planned: readonly Shape[],
  constraints: readonly Shape[],
  bufferM: number,
): Clash[] {
  if (!(bufferM >= 0 && Number.isFinite(bufferM)))
    throw new RangeError(`a buffer is a length of 0 m or more, got ${bufferM}`)
  if (constraints.length === 0) return []
  const index = constraintIndex(constraints, bufferM)
  return planned.flatMap((shape, p) =>
    [...nearest(shape, index, bufferM)]
      .map(([constraint, { distanceM, x, y }]) => ({ planned: p, constraint, distanceM, x, y }))
      .sort((a, b) => a.distanceM - b.distanceM || a.constraint - b.constraint),
  )
}

type Found = Map<number, Pick<Clash, 'distanceM' | 'x' | 'y'>>

function nearest(shape: Shape, index: ConstraintIndex, bufferM: number): Found {
  const found: Found = new Map()
  const note = (constraint: number, distanceM: number, x: number, y: number): void => {
    const known = found.get(constraint)
    if (known === undefined || distanceM < known.distanceM) found.set(constraint, { distanceM, x, y })
  }
  for (const [x, y] of firstPlaces(shape))
    for (const s of index.around(x, y))
      if (index.shapes[s]!.polygons.some((polygon) => pointInPolygon(x, y, polygon))) note(s, 0, x, y)
  if (shape.polygons.length > 0) noteHeld(shape, index, note)
  const { ends, owner } = index
  eachSegment(shape, (ax, ay, bx, by) => {
    index.near(ax, ay, bx, by, (e) => {
      if (found.get(owner[e]!)?.distanceM === 0) return
      const [cx, cy, dx, dy] = [ends[4 * e]!, ends[4 * e + 1]!, ends[4 * e + 2]!, ends[4 * e + 3]!]
      const { distance, x, y } = segmentDistance(ax, ay, bx, by, cx, cy, dx, dy)
      if (distance <= bufferM) note(owner[e]!, distance, x, y)
    })
  })
  return found
}

/** Constraints that what is planned holds: their own places lie in its polygons. */
function noteHeld(
  shape: Shape,
  { shapes, bounds }: ConstraintIndex,
  note: (constraint: number, distanceM: number, x: number, y: number) => void,
): void {
  const own = shapeBounds(shape)
  bounds.forEach(({ minX, minY, maxX, maxY }, s) => {
    if (minX > own.maxX || maxX < own.minX || minY > own.maxY || maxY < own.minY) return
    for (const [x, y] of firstPlaces(shapes[s]!))
      if (shape.polygons.some((polygon) => pointInPolygon(x, y, polygon))) note(s, 0, x, y)
  })
}

/**
 * One clash in words. Names as they are to stand in the sentence: "Lane 12", "the scheduled monument Bury Hill".
 * @example clashInWords('Target 3', 'the gas main', 12.4, 30) // 'Target 3 is 12 m from the gas main; 30 m were to be kept.'
 */
export function clashInWords(
  planned: string,
  constraint: string,
  distanceM: number,
  bufferM: number,
): string {
  if (distanceM === 0) return `${planned} touches ${constraint}.`
  const far = distanceM < 1 ? 'less than 1 m' : `${Math.floor(distanceM)} m`
  return `${planned} is ${far} from ${constraint}; ${bufferM} m were to be kept.`
}
