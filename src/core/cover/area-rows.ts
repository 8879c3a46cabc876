import type { PlanarArea, Polygon } from '#core/geometry'
import type { LatticeFrame } from '#core/raster'
import { centreEast, centreNorth, sharedBytes } from './lattice.ts'

/** Which cells of a grid lie in an area: for each row, ascending spans of columns. */
export interface AreaRows {
  /** Row `r` (0 = northernmost) owns the spans `start[r]` up to `start[r + 1]`. */
  readonly start: Uint32Array
  /** Pairs: the first column inside, the first column past it. */
  readonly spans: Int32Array
  readonly cells: number
  /** Cells that lie in more than one polygon of the area; counted once in `cells`. */
  readonly sharedCells: number
}

/** Spans of cells before they are brought in order of rows. */
interface LooseSpans {
  length: number
  readonly row: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
}

/**
 * The cells whose centre lies in an area: inside a polygon by the even-odd rule over its rings, and a cell inside any of
 * the polygons is inside. A centre on an edge counts on one side only (see lattice.ts), so neighbouring areas share no cell.
 *
 * Cost  linear in the rows that the edges cross, plus the sorting of each row's crossings.
 */
export function areaRows(area: PlanarArea, frame: LatticeFrame): AreaRows {
  let crossings = 0
  for (const { rings } of area.polygons) for (const ring of rings) crossings += crossingsOf(ring, frame)
  const spans = crossings >> 1
  const loose: LooseSpans = {
    length: 0,
    row: new Int32Array(spans),
    from: new Int32Array(spans),
    to: new Int32Array(spans),
  }
  for (const polygon of area.polygons) addPolygon(loose, polygon, frame)
  return inOrder(loose, frame)
}

/** First row from the south whose centre lies at or north of `y`. Shared by all edges at a vertex, so that no row leaks. */
function rowAt(y: number, frame: LatticeFrame): number {
  const v = y / frame.cellM
  const whole = Math.floor(v)
  return whole - frame.row0 + Math.ceil(v - whole - centreNorth)
}

function crossingsOf(ring: Float64Array, frame: LatticeFrame): number {
  let count = 0
  for (let i = 0; i < ring.length; i += 2) {
    const next = i + 2 < ring.length ? i + 2 : 0
    count += Math.abs(rowAt(ring[i + 1]!, frame) - rowAt(ring[next + 1]!, frame))
  }
  return count
}

function addPolygon(loose: LooseSpans, { rings }: Polygon, frame: LatticeFrame): void {
  let south = Infinity
  let north = -Infinity
  for (const ring of rings) {
    for (let i = 1; i < ring.length; i += 2) {
      const row = rowAt(ring[i]!, frame)
      if (row < south) south = row
      if (row > north) north = row
    }
  }
  if (!(north > south)) return
  const start = new Uint32Array(north - south + 1)
  for (const ring of rings) eachEdge(ring, frame, (row) => start[row - south + 1]!++)
  for (let r = 1; r < start.length; r++) start[r]! += start[r - 1]!
  const columns = new Int32Array(start[north - south]!)
  const filled = start.slice()
  for (const ring of rings) {
    eachEdge(ring, frame, (row, column) => {
      columns[filled[row - south]!++] = column
    })
  }
  for (let r = south; r < north; r++) {
    const crossed = columns.subarray(start[r - south], start[r - south + 1]).sort()
    for (let i = 0; i + 1 < crossed.length; i += 2) {
      const from = Math.max(0, crossed[i]!)
      const to = Math.min(frame.columns, crossed[i + 1]!)
      if (from >= to || r < 0 || r >= frame.rows) continue
      loose.row[loose.length] = frame.rows - 1 - r
      loose.from[loose.length] = from
      loose.to[loose.length] = to
      loose.length++
    }
  }
}

/**
 * Calls back for every row of centres that the edges of a ring cross, with the first column east of the crossing. A ring
 * that lacks its closing pair is closed here, for an open one would leak along a row.
 */
function eachEdge(
  ring: Float64Array,
  frame: LatticeFrame,
  crossed: (row: number, column: number) => void,
): void {
  const { cellM, column0, row0 } = frame
  for (let i = 0; i < ring.length; i += 2) {
    const next = i + 2 < ring.length ? i + 2 : 0
    const from = rowAt(ring[i + 1]!, frame)
    const to = rowAt(ring[next + 1]!, frame)
    if (from === to) continue
    const low = from < to ? i : next
    const high = from < to ? next : i
    const u = ring[low]! / cellM
    const v = ring[low + 1]! / cellM
    const column = Math.floor(u)
    const row = Math.floor(v)
    const slope = (ring[high]! - ring[low]!) / (ring[high + 1]! - ring[low + 1]!)
    for (let r = Math.min(from, to); r < Math.max(from, to); r++) {
      const rise = r + row0 - row + (centreNorth - (v - row))
      crossed(r, column - column0 + Math.ceil(u - column + rise * slope - centreEast))
    }
  }
}

function inOrder(loose: LooseSpans, frame: LatticeFrame): AreaRows {
  const counts = new Uint32Array(frame.rows + 1)
  for (let i = 0; i < loose.length; i++) counts[loose.row[i]! + 1]!++
  for (let r = 1; r <= frame.rows; r++) counts[r]! += counts[r - 1]!
  const order = new Uint32Array(loose.length)
  const filled = counts.slice()
  for (let i = 0; i < loose.length; i++) order[filled[loose.row[i]!]!++] = i
  const start = new Uint32Array(sharedBytes(4 * (frame.rows + 1)))
  const spans = new Int32Array(sharedBytes(8 * loose.length))
  let length = 0
  let cells = 0
  let sharedCells = 0
  for (let r = 0; r < frame.rows; r++) {
    start[r] = length
    const row = order.subarray(counts[r], counts[r + 1]).sort((a, b) => loose.from[a]! - loose.from[b]!)
    for (const i of row) {
      const from = loose.from[i]!
      const to = loose.to[i]!
      const last = length > start[r]! ? spans[2 * length - 1]! : -1
      sharedCells += Math.max(0, Math.min(last, to) - from)
      cells += Math.max(0, to - Math.max(from, last))
      if (from <= last) spans[2 * length - 1] = Math.max(last, to)
      else {
        spans[2 * length] = from
        spans[2 * length + 1] = to
        length++
      }
    }
  }
  start[frame.rows] = length
  return { start, spans: spans.subarray(0, 2 * length), cells, sharedCells }
}
