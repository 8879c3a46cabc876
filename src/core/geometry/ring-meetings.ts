import { boundsOf } from './bounds.ts'
import { type Meeting, near, segmentsMeet } from './segments-meet.ts'

/** A place where two edges meet that are not neighbours in one ring, or where neighbours fold back on each other. */
export interface RingMeeting {
  readonly x: number
  readonly y: number
  readonly how: Exclude<Meeting, 'none'>
  /** Indices of the two rings, the same where a ring meets itself. */
  readonly rings: readonly [number, number]
}

/** Edges of all rings, without those of length 0, from an origin amid them. */
interface Edges {
  readonly count: number
  /** Four numbers an edge: x and y of its start, x and y of its end. */
  readonly ends: Float64Array
  readonly ring: Uint32Array
  /** First and past last edge of each ring. */
  readonly ringStart: Uint32Array
  readonly originX: number
  readonly originY: number
}

/** Fewer edges than this are compared each with each. */
const few = 24
/** More bins than edges, so that few edges share a bin; edges of outlines are short against their bins. */
const binsAnEdge = 2

/**
 * Finds where closed rings meet themselves or each other.
 *
 * Method  edges are put in about as many square bins as there are edges and compared within each bin, so the cost grows
 *         with the edges and with how long they are against the bins, not with the square of their number.
 * Limits  stops after `most` meetings; a place on the edge of bins may be told twice.
 */
export function ringMeetings(rings: readonly Float64Array[], most: number): RingMeeting[] {
  const edges = edgesOf(rings)
  const found: RingMeeting[] = []
  if (edges.count < few) {
    for (let e = 0; e < edges.count; e++)
      for (let f = 0; f < e; f++) if (compare(edges, f, e, found, most)) return found
    return found
  }
  compareInBins(edges, found, most)
  return found
}

function edgesOf(rings: readonly Float64Array[]): Edges {
  const pairs = rings.reduce((sum, ring) => sum + (ring.length >> 1), 0)
  const ends = new Float64Array(4 * pairs)
  const owner = new Uint32Array(pairs)
  const ringStart = new Uint32Array(rings.length + 1)
  const originX = rings[0]?.[0] ?? 0
  const originY = rings[0]?.[1] ?? 0
  let count = 0
  rings.forEach((ring, r) => {
    for (let i = 0; i + 3 < ring.length; i += 2) {
      if (ring[i] === ring[i + 2] && ring[i + 1] === ring[i + 3]) continue
      ends[4 * count] = ring[i]! - originX
      ends[4 * count + 1] = ring[i + 1]! - originY
      ends[4 * count + 2] = ring[i + 2]! - originX
      ends[4 * count + 3] = ring[i + 3]! - originY
      owner[count++] = r
    }
    ringStart[r + 1] = count
  })
  return { count, ends, ring: owner, ringStart, originX, originY }
}

/** Compares two edges, notes a meeting; true once there are enough. */
function compare(edges: Edges, one: number, other: number, found: RingMeeting[], most: number): boolean {
  const { ends, ring, ringStart } = edges
  const i = 4 * Math.min(one, other)
  const j = 4 * Math.max(one, other)
  if (apart(ends[i]!, ends[i + 2]!, ends[j]!, ends[j + 2]!)) return false
  if (apart(ends[i + 1]!, ends[i + 3]!, ends[j + 1]!, ends[j + 3]!)) return false
  const how = segmentsMeet(
    ends[i]!,
    ends[i + 1]!,
    ends[i + 2]!,
    ends[i + 3]!,
    ends[j]!,
    ends[j + 1]!,
    ends[j + 2]!,
    ends[j + 3]!,
  )
  if (how === 'none') return false
  const owner = ring[one]!
  if (owner === ring[other] && how === 'touch') {
    const first = ringStart[owner]!
    const last = ringStart[owner + 1]! - 1
    if (j - i === 4 || (i === 4 * first && j === 4 * last)) return false
  }
  const place = meetingPlace(ends, i, j, how)
  found.push({
    x: place[0] + edges.originX,
    y: place[1] + edges.originY,
    how,
    rings: [ring[i / 4]!, ring[j / 4]!],
  })
  return found.length >= most
}

/** Whether the stretch from `a` to `b` lies clear of that from `c` to `d`, by more than counts as touching. */
function apart(a: number, b: number, c: number, d: number): boolean {
  return Math.max(a, b) + near < Math.min(c, d) || Math.max(c, d) + near < Math.min(a, b)
}

function meetingPlace(ends: Float64Array, i: number, j: number, how: Meeting): [number, number] {
  const [ax, ay, bx, by] = [ends[i]!, ends[i + 1]!, ends[i + 2]!, ends[i + 3]!]
  const [cx, cy, dx, dy] = [ends[j]!, ends[j + 1]!, ends[j + 2]!, ends[j + 3]!]
  const cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
  if (how !== 'overlap' && cross !== 0) {
    const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / cross
    return [ax + t * (bx - ax), ay + t * (by - ay)]
  }
  // Lying along each other: the middle of the shared stretch.
  const square = (bx - ax) ** 2 + (by - ay) ** 2
  const c = ((cx - ax) * (bx - ax) + (cy - ay) * (by - ay)) / square
  const d = ((dx - ax) * (bx - ax) + (dy - ay) * (by - ay)) / square
  const t = (Math.max(0, Math.min(c, d)) + Math.min(1, Math.max(c, d))) / 2
  return [ax + t * (bx - ax), ay + t * (by - ay)]
}

/** Square bins over the bounds of all edges. */
interface BinLayout {
  readonly west: number
  readonly south: number
  readonly side: number
  readonly columns: number
  readonly rows: number
}

function layOut({ ends, count }: Edges): BinLayout {
  const { minX, minY, maxX, maxY } = boundsOf(ends.subarray(0, 4 * count))
  const width = Math.max(maxX - minX, 1e-9)
  const height = Math.max(maxY - minY, 1e-9)
  const side = Math.max(Math.sqrt((width * height) / (binsAnEdge * count)), Math.max(width, height) / count)
  return {
    west: minX,
    south: minY,
    side,
    columns: Math.floor(width / side) + 1,
    rows: Math.floor(height / side) + 1,
  }
}

/**
 * Puts edges one by one into the bins they pass through (now and then one that they only come near), comparing each with
 * those there already. `last` holds the latest entry of each bin; each entry names its edge and the entry before it.
 */
function compareInBins(edges: Edges, found: RingMeeting[], most: number): void {
  const { ends, count } = edges
  const { west, south, side, columns, rows } = layOut(edges)
  const last = new Int32Array(columns * rows).fill(-1)
  let entries: Int32Array = new Int32Array(8 * count)
  let length = 0
  const margin = side * 1e-6
  const column = (x: number): number => Math.min(columns - 1, Math.max(0, Math.floor((x - west) / side)))
  const row = (y: number): number => Math.min(rows - 1, Math.max(0, Math.floor((y - south) / side)))
  for (let e = 0; e < count; e++) {
    const x0 = ends[4 * e]!
    const y0 = ends[4 * e + 1]!
    const x1 = ends[4 * e + 2]!
    const y1 = ends[4 * e + 3]!
    const low = Math.min(y0, y1)
    const high = Math.max(y0, y1)
    const slope = y0 === y1 ? 0 : (x1 - x0) / (y1 - y0)
    const northmost = row(high + margin)
    for (let r = row(low - margin); r <= northmost; r++) {
      // The stretch of the edge inside this row of bins, a little widened.
      const from = Math.max(low, south + r * side - margin)
      const to = Math.min(high, south + (r + 1) * side + margin)
      const atFrom = y0 === y1 ? x0 : x0 + (from - y0) * slope
      const atTo = y0 === y1 ? x1 : x0 + (to - y0) * slope
      const eastmost = column(Math.max(atFrom, atTo) + margin)
      for (let c = column(Math.min(atFrom, atTo) - margin); c <= eastmost; c++) {
        const bin = r * columns + c
        for (let k = last[bin]!; k !== -1; k = entries[k + 1]!)
          if (compare(edges, entries[k]!, e, found, most)) return
        if (length === entries.length) entries = twiceAsLong(entries)
        entries[length] = e
        entries[length + 1] = last[bin]!
        last[bin] = length
        length += 2
      }
    }
  }
}

function twiceAsLong(list: Int32Array): Int32Array {
  const longer = new Int32Array(list.length * 2)
  longer.set(list)
  return longer
}
