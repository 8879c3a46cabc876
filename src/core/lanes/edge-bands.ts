import { areaBounds, type PlanarArea } from '#core/geometry'

/** All edges of an area in bands from south to north, to find those near a line without looking at all of them. */
export interface EdgeBands {
  readonly originX: number
  readonly originY: number
  /** Four numbers an edge from the origin: x and y of its start, x and y of its end. Edges of a ring stand together, in their order. */
  readonly ends: Float64Array
  readonly ring: Uint32Array
  readonly polygon: Uint32Array
  /** First edge of each ring, and past the last. */
  readonly ringStart: Uint32Array
  /** Length of the ring before each edge, metres. */
  readonly before: Float64Array
  readonly ringLength: Float64Array
  readonly bandM: number
  readonly bands: number
  /** Band b owns `edges[first[b]]` up to `edges[first[b + 1]]`, ascending. */
  readonly first: Uint32Array
  readonly edges: Uint32Array
  /** For each edge the last question it was looked at for; behind them the number of questions so far. */
  readonly asked: Float64Array
}

const mostBands = 8192

/** Cost: linear in edges, and in the bands that long edges cross. */
export function edgeBands(area: PlanarArea): EdgeBands {
  const { minX, minY, maxY } = areaBounds(area)
  const edges = listEdges(area, minX, minY)
  return { originX: minX, originY: minY, ...edges, ...inBands(edges.ends, maxY - minY) }
}

function listEdges(
  area: PlanarArea,
  originX: number,
  originY: number,
): Pick<EdgeBands, 'ends' | 'ring' | 'polygon' | 'ringStart' | 'before' | 'ringLength' | 'asked'> {
  const counts = area.polygons.flatMap(({ rings }) =>
    rings.map((ring) => Math.max(0, (ring.length >> 1) - 1)),
  )
  const total = counts.reduce((sum, n) => sum + n, 0)
  const ends = new Float64Array(4 * total)
  const ring = new Uint32Array(total)
  const polygon = new Uint32Array(total)
  const before = new Float64Array(total)
  const ringStart = new Uint32Array(counts.length + 1)
  const ringLength = new Float64Array(counts.length)
  let e = 0
  let r = 0
  area.polygons.forEach(({ rings }, p) => {
    for (const corners of rings) {
      let length = 0
      for (let i = 0; i + 3 < corners.length; i += 2) {
        const [x0, y0] = [corners[i]! - originX, corners[i + 1]! - originY]
        const [x1, y1] = [corners[i + 2]! - originX, corners[i + 3]! - originY]
        if (x0 === x1 && y0 === y1) continue
        ends.set([x0, y0, x1, y1], 4 * e)
        ring[e] = r
        polygon[e] = p
        before[e++] = length
        length += Math.sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2)
      }
      ringLength[r++] = length
      ringStart[r] = e
    }
  })
  const asked = new Float64Array(e + 1)
  return { ends: ends.subarray(0, 4 * e), ring, polygon, ringStart, before, ringLength, asked }
}

function inBands(ends: Float64Array, height: number): Pick<EdgeBands, 'bandM' | 'bands' | 'first' | 'edges'> {
  const count = ends.length / 4
  const bands = Math.max(1, Math.min(mostBands, count))
  const bandM = Math.max(height, 1e-6) / bands
  const bandOf = (y: number): number => Math.min(bands - 1, Math.max(0, Math.floor(y / bandM)))
  const first = new Uint32Array(bands + 1)
  const each = (visit: (band: number, edge: number) => void): void => {
    for (let e = 0; e < count; e++) {
      const [y0, y1] = [ends[4 * e + 1]!, ends[4 * e + 3]!]
      const to = bandOf(Math.max(y0, y1) + near)
      for (let b = bandOf(Math.min(y0, y1) - near); b <= to; b++) visit(b, e)
    }
  }
  each((b) => first[b + 1]!++)
  for (let b = 0; b < bands; b++) first[b + 1]! += first[b]!
  const edges = new Uint32Array(first[bands]!)
  const filled = first.slice()
  each((b, e) => {
    edges[filled[b]!++] = e
  })
  return { bandM, bands, first, edges }
}

/** Closer than this, metres, a line meets an edge: ends of lanes lie on the outline but for rounding. */
const near = 1e-6

const bandAt = ({ bandM, bands }: EdgeBands, y: number): number =>
  Math.min(bands - 1, Math.max(0, Math.floor(y / bandM)))

/** Whether a place (from the origin of the bands) lies in any polygon, by the even-odd rule over its rings. */
export function onGround(index: EdgeBands, x: number, y: number): boolean {
  const { ends, first, edges, polygon } = index
  const band = bandAt(index, y)
  let current = -1
  let odd = false
  for (let k = first[band]!; k < first[band + 1]!; k++) {
    const e = edges[k]!
    if (polygon[e] !== current) {
      if (odd) return true
      current = polygon[e]!
    }
    const y0 = ends[4 * e + 1]!
    const y1 = ends[4 * e + 3]!
    if (y0 > y === y1 > y) continue
    const x0 = ends[4 * e]!
    if (x < x0 + ((y - y0) / (y1 - y0)) * (ends[4 * e + 2]! - x0)) odd = !odd
  }
  return odd
}

/** Where a line meets the outline: how far along the line (0 to 1), and where on which ring. */
export interface OutlineMeeting {
  readonly t: number
  readonly ring: number
  /** Edge of the ring. */
  readonly edge: number
  /** Metres along the ring. */
  readonly along: number
}

/**
 * All meetings of the line from a to b (from the origin of the bands) with the outline, in order along the line.
 * Cost: the edges at its heights, wherever they lie from west to east.
 */
export function outlineMeetings(
  index: EdgeBands,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): OutlineMeeting[] {
  const { ends, first, edges, ring, before, asked } = index
  const found: OutlineMeeting[] = []
  const abx = bx - ax
  const aby = by - ay
  const ab = Math.sqrt(abx * abx + aby * aby)
  if (ab === 0) return found
  const question = ++asked[asked.length - 1]!
  const note = (t: number, e: number, along: number): void => {
    found.push({ t: Math.min(1, Math.max(0, t)), ring: ring[e]!, edge: e, along: before[e]! + along })
  }
  const low = Math.min(ax, bx) - near
  const high = Math.max(ax, bx) + near
  const to = bandAt(index, Math.max(ay, by) + near)
  for (let band = bandAt(index, Math.min(ay, by) - near); band <= to; band++) {
    for (let k = first[band]!; k < first[band + 1]!; k++) {
      const e = edges[k]!
      const cx = ends[4 * e]!
      const dx = ends[4 * e + 2]!
      if ((cx < low && dx < low) || (cx > high && dx > high)) continue
      if (asked[e] === question) continue
      asked[e] = question
      const cy = ends[4 * e + 1]!
      const dy = ends[4 * e + 3]!
      const cdx = dx - cx
      const cdy = dy - cy
      const cd = Math.sqrt(cdx * cdx + cdy * cdy)
      // Distances of the edge's ends from the line, positive on its left, and of the line's ends from the edge.
      const c = (abx * (cy - ay) - aby * (cx - ax)) / ab
      const d = (abx * (dy - ay) - aby * (dx - ax)) / ab
      if ((c > near && d > near) || (c < -near && d < -near)) continue
      const a = (cdx * (ay - cy) - cdy * (ax - cx)) / cd
      const b = (cdx * (by - cy) - cdy * (bx - cx)) / cd
      if ((a > near && b > near) || (a < -near && b < -near)) continue
      if (Math.abs(a) <= near) noteEnd(0, ax, ay, e)
      if (Math.abs(b) <= near) noteEnd(1, bx, by, e)
      if (Math.abs(c) <= near) noteCorner(cx, cy, e, 0)
      if (Math.abs(d) <= near) noteCorner(dx, dy, e, cd)
      if (Math.min(Math.abs(a), Math.abs(b), Math.abs(c), Math.abs(d)) > near)
        note(a / (a - b), e, (cd * c) / (c - d))
    }
  }
  function noteEnd(t: number, x: number, y: number, e: number): void {
    const [ex, ey] = [ends[4 * e + 2]! - ends[4 * e]!, ends[4 * e + 3]! - ends[4 * e + 1]!]
    const length = Math.sqrt(ex * ex + ey * ey)
    const along = ((x - ends[4 * e]!) * ex + (y - ends[4 * e + 1]!) * ey) / length
    if (along >= -near && along <= length + near) note(t, e, Math.min(length, Math.max(0, along)))
  }
  function noteCorner(x: number, y: number, e: number, along: number): void {
    const t = ((x - ax) * abx + (y - ay) * aby) / (ab * ab)
    if (t * ab >= -near && t * ab <= ab + near) note(t, e, along)
  }
  return found.sort((p, q) => p.t - q.t)
}
