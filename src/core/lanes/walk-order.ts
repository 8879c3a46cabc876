import { nearestLeft } from './nearest-left.ts'
import type { LaidLanes } from './parallel-lanes.ts'

/** A cell of lanes that is walked to and fro, of the piece of ground with that index. */
export interface LaneCell {
  readonly piece: number
  readonly lanes: Uint32Array
}

/** One lane in the order of the walk. */
export interface WalkedLane {
  readonly piece: number
  readonly lane: number
  /** Whether it is walked against the sense of the bearing. */
  readonly backwards: boolean
}

/**
 * The order in which cells are walked, each to and fro from the corner where it is entered: from the starting place always to the nearest
 * corner of a cell that is left.
 *
 * Limits  a greedy order: the walk between cells is short but not the shortest.
 * Cost    about constant a cell.
 */
export function walkOrder(
  pieces: readonly LaidLanes[],
  cells: readonly LaneCell[],
  from: readonly [x: number, y: number] | null,
): WalkedLane[] {
  // Four corners a cell: first lane at its start and its end, last lane at its start and its end.
  const corners = new Float64Array(8 * cells.length)
  cells.forEach(({ piece, lanes }, c) => {
    const laid = pieces[piece]!
    corners.set(endOf(laid, lanes[0]!, false), 8 * c)
    corners.set(endOf(laid, lanes[0]!, true), 8 * c + 2)
    corners.set(endOf(laid, lanes.at(-1)!, false), 8 * c + 4)
    corners.set(endOf(laid, lanes.at(-1)!, true), 8 * c + 6)
  })
  const left = nearestLeft(corners)
  const order: WalkedLane[] = []
  let [x, y] = from ?? [corners[0] ?? 0, corners[1] ?? 0]
  for (let visited = 0; visited < cells.length; visited++) {
    const corner = left.nearest(x, y)
    const cell = Math.floor(corner / 4)
    for (let k = 0; k < 4; k++) left.take(4 * cell + k)
    const { piece, lanes } = cells[cell]!
    const lastFirst = (corner & 2) !== 0
    let backwards = (corner & 1) !== 0
    for (let i = 0; i < lanes.length; i++) {
      order.push({ piece, lane: lanes[lastFirst ? lanes.length - 1 - i : i]!, backwards })
      backwards = !backwards
    }
    const last = order.at(-1)!
    ;[x, y] = endOf(pieces[piece]!, last.lane, !last.backwards)
  }
  return order
}

/** An end of a lane: its start or, `far`, its end. */
function endOf({ xy, start }: LaidLanes, lane: number, far: boolean): [number, number] {
  const at = far ? start[lane + 1]! - 1 : start[lane]!
  return [xy[2 * at]!, xy[2 * at + 1]!]
}
