import { type Bounds, boundsOf, emptyBounds, joinBounds, type Polygon } from '#core/geometry'
import { geometryHeaderBytes, readGeometryHeader, writeGeometryHeader } from './geometry-header.ts'
import { assertLittleEndian, runNumbers, type VertexRun, walkGeometry } from './well-known-binary.ts'

/** MULTIPOLYGON in WGS84. Rings are written as they are: closed, in their own winding. */
export function encodeMultiPolygon(polygons: readonly Polygon[]): Uint8Array {
  const bounds = polygons.map(polygonBounds).reduce(joinBounds, emptyBounds)
  const bodies = polygons.reduce((sum, polygon) => sum + polygonBytes(polygon), 0)
  const blob = new Uint8Array(geometryHeaderBytes(bounds) + 9 + bodies)
  const view = new DataView(blob.buffer)
  let at = writeGeometryHeader(blob, bounds)
  view.setUint8(at, 1)
  view.setUint32(at + 1, 6, true)
  view.setUint32(at + 5, polygons.length, true)
  at += 9
  for (const polygon of polygons) at = writePolygon(blob, view, at, polygon)
  return blob
}

/** POLYGON in WGS84. */
export function encodePolygon(polygon: Polygon): Uint8Array {
  const bounds = polygonBounds(polygon)
  const blob = new Uint8Array(geometryHeaderBytes(bounds) + polygonBytes(polygon))
  writePolygon(blob, new DataView(blob.buffer), writeGeometryHeader(blob, bounds), polygon)
  return blob
}

function polygonBounds(polygon: Polygon): Bounds {
  return polygon.rings.map(boundsOf).reduce(joinBounds, emptyBounds)
}

function polygonBytes(polygon: Polygon): number {
  return polygon.rings.reduce((sum, ring) => sum + 4 + ring.length * 8, 9)
}

function writePolygon(blob: Uint8Array, view: DataView, start: number, polygon: Polygon): number {
  assertLittleEndian()
  view.setUint8(start, 1)
  view.setUint32(start + 1, 3, true)
  view.setUint32(start + 5, polygon.rings.length, true)
  let at = start + 9
  for (const ring of polygon.rings) {
    view.setUint32(at, ring.length / 2, true)
    blob.set(new Uint8Array(ring.buffer, ring.byteOffset, ring.byteLength), at + 4)
    at += 4 + ring.byteLength
  }
  return at
}

/**
 * Polygons of a polygon or multipolygon of any dimension; z and m are left out, rings that another program left open are
 * closed. Null for bytes that are not polygons. Cost: one copy of the vertices.
 */
export function decodePolygons(blob: Uint8Array): Polygon[] | null {
  const header = readGeometryHeader(blob)
  if (header === null) return null
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  const polygons: { rings: Float64Array[] }[] = []
  let allPolygons = true
  const end = walkGeometry(
    view,
    header.bodyAt,
    (run) => polygons.at(-1)?.rings.push(closedRing(view, run)),
    (head) => {
      allPolygons &&= head.kind === 3 || head.kind === 6
      if (head.kind === 3) polygons.push({ rings: [] })
    },
  )
  return end < 0 || !allPolygons ? null : polygons.filter((polygon) => polygon.rings.length > 0)
}

function closedRing(view: DataView, run: VertexRun): Float64Array {
  const numbers = runNumbers(view, run)
  const { stride } = run.head
  const xy = stride === 2 ? numbers : new Float64Array(run.count * 2)
  for (let i = 0; stride > 2 && i < run.count; i++) {
    xy[i * 2] = numbers[i * stride]!
    xy[i * 2 + 1] = numbers[i * stride + 1]!
  }
  if (xy.length === 0 || (xy[0] === xy.at(-2) && xy[1] === xy.at(-1))) return xy
  const closed = new Float64Array(xy.length + 2)
  closed.set(xy)
  closed.set(xy.subarray(0, 2), xy.length)
  return closed
}

/** POINT in WGS84, without an envelope as is usual for points: 29 bytes. NaN makes an empty point (clause 2.1.3.1). */
export function encodePoint(x: number, y: number): Uint8Array {
  const blob = new Uint8Array(29)
  const view = new DataView(blob.buffer)
  const at = writeGeometryHeader(blob, Number.isNaN(x) || Number.isNaN(y) ? emptyBounds : null)
  view.setUint8(at, 1)
  view.setUint32(at + 1, 1, true)
  view.setFloat64(at + 5, x, true)
  view.setFloat64(at + 13, y, true)
  return blob
}

/** A point of any dimension; null for an empty one (NaN) and for bytes that are no point. */
export function decodePoint(blob: Uint8Array): { readonly x: number; readonly y: number } | null {
  const header = readGeometryHeader(blob)
  if (header === null) return null
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  let point: { x: number; y: number } | null = null
  const end = walkGeometry(view, header.bodyAt, (run) => {
    const { little, kind } = run.head
    if (kind === 1) point = { x: view.getFloat64(run.at, little), y: view.getFloat64(run.at + 8, little) }
  })
  const found = point as { x: number; y: number } | null
  return end < 0 || found === null || Number.isNaN(found.x) || Number.isNaN(found.y) ? null : found
}
