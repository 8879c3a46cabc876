import { type EdgeBands, type OutlineMeeting, onGround, outlineMeetings } from './edge-bands.ts'

/** A way on foot from one place to another. */
export interface Way {
  /** Interleaved pairs, both ends included. */
  readonly xy: readonly number[]
  readonly lengthM: number
  /** How much of it lies off the ground, where no way on the ground was found, metres. */
  readonly outsideM: number
}

/** Ways with more corners than this are not straightened: the outline itself is walked. */
const mostStraightened = 40
/** A way that leaves the ground by less than this has not left it, metres. */
const least = 1e-5

/**
 * A way between two places that stays on the ground: straight, and where the straight line leaves the ground, round the hole or along
 * the outline by the shorter side, then straightened where corners can be cut on the ground.
 *
 * Method  what of the line lies off the ground begins and ends on the outline; both on one ring, the ring is followed.
 * Limits  not always the shortest way. Between parts that lie apart, the line is straight and its length off the ground told.
 * Cost    that of the edges in the bands crossed; the square of its corners for straightening.
 */
export function walkBetween(index: EdgeBands, from: readonly number[], to: readonly number[]): Way {
  const { originX, originY } = index
  const [ax, ay] = [from[0]! - originX, from[1]! - originY]
  const [bx, by] = [to[0]! - originX, to[1]! - originY]
  const { xy, outsideM } = roundAbout(index, ax, ay, bx, by)
  const way = xy.length > 4 && xy.length <= 2 * mostStraightened ? straightened(index, xy) : xy
  let lengthM = 0
  for (let i = 2; i < way.length; i += 2)
    lengthM += Math.sqrt((way[i]! - way[i - 2]!) ** 2 + (way[i + 1]! - way[i - 1]!) ** 2)
  return { xy: way.map((value, i) => value + (i % 2 === 0 ? originX : originY)), lengthM, outsideM }
}

/** Stretches of a line, by what fraction of it they begin and end at, that lie off the ground, with the meetings at their ends. */
function stretchesOff(
  index: EdgeBands,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): { t0: number; t1: number; starts: OutlineMeeting[]; ends: OutlineMeeting[] }[] {
  const length = Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2)
  const meetings = outlineMeetings(index, ax, ay, bx, by)
  const step = least / Math.max(length, least)
  const groups: { t: number; meetings: OutlineMeeting[] }[] = [{ t: 0, meetings: [] }]
  for (const meeting of meetings) {
    const last = groups.at(-1)!
    if (meeting.t - last.t <= step) last.meetings.push(meeting)
    else groups.push({ t: meeting.t, meetings: [meeting] })
  }
  if (1 - groups.at(-1)!.t > step) groups.push({ t: 1, meetings: [] })
  const off: { t0: number; t1: number; starts: OutlineMeeting[]; ends: OutlineMeeting[] }[] = []
  for (let g = 0; g + 1 < groups.length; g++) {
    const [t0, t1] = [groups[g]!.t, groups[g + 1]!.t]
    const t = (t0 + t1) / 2
    if (onGround(index, ax + t * (bx - ax), ay + t * (by - ay))) continue
    if (lieAlong(groups[g]!.meetings, groups[g + 1]!.meetings)) continue
    off.push({ t0, t1, starts: groups[g]!.meetings, ends: groups[g + 1]!.meetings })
  }
  return off
}

/** The stretch between two meetings of one edge is the edge itself, which is ground. */
function lieAlong(starts: readonly OutlineMeeting[], ends: readonly OutlineMeeting[]): boolean {
  return starts.some((a) => ends.some((b) => a.edge === b.edge))
}

function roundAbout(
  index: EdgeBands,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): { xy: number[]; outsideM: number } {
  const xy = [ax, ay]
  let outsideM = 0
  const length = Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2)
  for (const { t0, t1, starts, ends } of stretchesOff(index, ax, ay, bx, by)) {
    const around = shorterAround(index, starts, ends)
    if (around === null) outsideM += (t1 - t0) * length
    else xy.push(...around)
  }
  xy.push(bx, by)
  return { xy, outsideM }
}

/** Corners of the outline between the two ends of a stretch, by the shorter side of a ring that both lie on; null if there is none. */
function shorterAround(
  index: EdgeBands,
  starts: readonly OutlineMeeting[],
  ends: readonly OutlineMeeting[],
): number[] | null {
  let best: { from: OutlineMeeting; to: OutlineMeeting; forward: boolean; lengthM: number } | null = null
  for (const from of starts) {
    for (const to of ends) {
      if (from.ring !== to.ring) continue
      const whole = index.ringLength[from.ring]!
      const ahead = (to.along - from.along + whole) % whole
      const forward = ahead <= whole - ahead
      const lengthM = forward ? ahead : whole - ahead
      if (best === null || lengthM < best.lengthM) best = { from, to, forward, lengthM }
    }
  }
  if (best === null) return null
  const { from, to, forward } = best
  const { ends: corners, ringStart } = index
  const [first, past] = [ringStart[from.ring]!, ringStart[from.ring + 1]!]
  const edges = past - first
  const out = placeOn(index, from)
  // Going forward, the corners passed are the ends of edges from the one that is left up to the one that is reached.
  const steps = stepsAround(from, to, forward, edges)
  for (let s = 0; s < steps; s++) {
    const e = first + ((from.edge - first + (forward ? s : -s) + edges * 2) % edges)
    const at = 4 * e + (forward ? 2 : 0)
    out.push(corners[at]!, corners[at + 1]!)
  }
  out.push(...placeOn(index, to))
  return out
}

function stepsAround(from: OutlineMeeting, to: OutlineMeeting, forward: boolean, edges: number): number {
  const ahead = (to.edge - from.edge + edges) % edges
  if (from.edge === to.edge) return from.along <= to.along === forward ? 0 : edges
  return forward ? ahead : edges - ahead
}

function placeOn({ ends, before }: EdgeBands, { edge, along }: OutlineMeeting): number[] {
  const [x0, y0, x1, y1] = [ends[4 * edge]!, ends[4 * edge + 1]!, ends[4 * edge + 2]!, ends[4 * edge + 3]!]
  const share = (along - before[edge]!) / Math.sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2)
  return [x0 + share * (x1 - x0), y0 + share * (y1 - y0)]
}

/** Leaves out corners that can be passed by on the ground, from each the farthest that can be seen. */
function straightened(index: EdgeBands, xy: readonly number[]): number[] {
  const corners = xy.length >> 1
  const out = [xy[0]!, xy[1]!]
  let i = 0
  while (i < corners - 1) {
    let j = corners - 1
    while (j > i + 1 && !sees(index, xy, i, j)) j--
    out.push(xy[2 * j]!, xy[2 * j + 1]!)
    i = j
  }
  return out
}

function sees(index: EdgeBands, xy: readonly number[], i: number, j: number): boolean {
  const [ax, ay, bx, by] = [xy[2 * i]!, xy[2 * i + 1]!, xy[2 * j]!, xy[2 * j + 1]!]
  return stretchesOff(index, ax, ay, bx, by).length === 0
}
