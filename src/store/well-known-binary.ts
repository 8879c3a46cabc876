/**
 * Reading well-known binary: OGC 06-103r4 clause 8.2 with the ISO 13249-3 type codes that GeoPackage asks for
 * (+1000 for z, +2000 for m, +3000 for both). The older flag bits for z and m are understood as well, since some
 * programs still write them.
 */
type GeometryKind = 1 | 2 | 3 | 4 | 5 | 6 | 7

export interface GeometryHead {
  /** 1 point, 2 line string, 3 polygon, 4 to 6 the multiple forms of these, 7 collection. */
  readonly kind: GeometryKind
  readonly little: boolean
  readonly hasZ: boolean
  readonly hasM: boolean
  /** Numbers a vertex: 2, 3 or 4. */
  readonly stride: number
  /** Where the counts or coordinates start. */
  readonly at: number
}

/** Null where the bytes at `at` are no geometry of kinds 1 to 7. */
function readGeometryHead(view: DataView, at: number): GeometryHead | null {
  if (at + 5 > view.byteLength) return null
  const order = view.getUint8(at)
  if (order > 1) return null
  const little = order === 1
  const code = view.getUint32(at + 1, little)
  const base = code & 0x0fffffff
  const level = Math.floor(base / 1000)
  const kind = base % 1000
  if (kind < 1 || kind > 7 || level > 3) return null
  const hasZ = level === 1 || level === 3 || (code & 0x80000000) !== 0
  const hasM = level === 2 || level === 3 || (code & 0x40000000) !== 0
  return {
    kind: kind as GeometryKind,
    little,
    hasZ,
    hasM,
    stride: 2 + (hasZ ? 1 : 0) + (hasM ? 1 : 0),
    at: at + 5,
  }
}

/** A run of vertices inside the bytes. */
export interface VertexRun {
  readonly at: number
  readonly count: number
  readonly head: GeometryHead
}

/**
 * Runs of vertices of a geometry, in order: one for a point, one a line string, one a ring. `open(head)` is called before
 * the runs of each geometry, parents first. Returns where the geometry ends, or -1 for bytes that make no sense; counts are
 * checked against the bytes there are, so broken ones cost nothing. Nesting deeper than 8 is refused.
 */
export function walkGeometry(
  view: DataView,
  start: number,
  run: (vertices: VertexRun) => void,
  open: (head: GeometryHead) => void = () => {},
  depth = 0,
): number {
  const head = readGeometryHead(view, start)
  if (head === null || depth > 8) return -1
  open(head)
  if (head.kind === 1) return walkRun(view, head, head.at, 1, run)
  if (head.at + 4 > view.byteLength) return -1
  const count = view.getUint32(head.at, head.little)
  if (head.kind === 2) return walkRun(view, head, head.at + 4, count, run)
  if (count * 4 > view.byteLength - head.at) return -1
  let at = head.at + 4
  for (let i = 0; i < count && at >= 0; i++) {
    if (head.kind > 3) {
      at = walkGeometry(view, at, run, open, depth + 1)
    } else {
      if (at + 4 > view.byteLength) return -1
      at = walkRun(view, head, at + 4, view.getUint32(at, head.little), run)
    }
  }
  return at
}

function walkRun(
  view: DataView,
  head: GeometryHead,
  at: number,
  count: number,
  run: (vertices: VertexRun) => void,
): number {
  const end = at + count * head.stride * 8
  if (end > view.byteLength) return -1
  run({ at, count, head })
  return end
}

/**
 * Numbers of a run as they stand, `stride` a vertex. Little-endian bytes are copied whole; big-endian ones are read one
 * by one. Cost: 8 bytes copied a number.
 */
export function runNumbers(view: DataView, run: VertexRun): Float64Array {
  const length = run.count * run.head.stride
  const bytes = new Uint8Array(view.buffer, view.byteOffset + run.at, length * 8)
  if (run.head.little) return new Float64Array(bytes.slice().buffer)
  const numbers = new Float64Array(length)
  for (let i = 0; i < length; i++) numbers[i] = view.getFloat64(run.at + i * 8, false)
  return numbers
}

/** Typed arrays are copied to and from bytes as they lie in memory, which is right on little-endian machines only. */
export function assertLittleEndian(): void {
  if (new Uint8Array(Uint16Array.of(1).buffer)[0] !== 1) {
    throw new RangeError('the store needs a little-endian machine')
  }
}
