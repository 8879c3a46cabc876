import { type Bounds, boundsOf } from '#core/geometry'
import { decodePolygons, encodePolygon } from './area-geometry.ts'
import { geometryHeaderBytes, writeGeometryHeader } from './geometry-header.ts'
import type { MarkOutline } from './marks-file.ts'
import { decodeTrack } from './track-geometry.ts'

/** POLYGON or LINESTRING in WGS84. */
export function encodeOutline(outline: MarkOutline): Uint8Array {
  return outline.type === 'polygon' ? encodePolygon(outline.polygon) : encodeLine(outline.xy)
}

function encodeLine(xy: Float64Array): Uint8Array {
  const bounds = boundsOf(xy)
  const blob = new Uint8Array(geometryHeaderBytes(bounds) + 9 + xy.byteLength)
  const view = new DataView(blob.buffer)
  const at = writeGeometryHeader(blob, bounds)
  view.setUint8(at, 1)
  view.setUint32(at + 1, 2, true)
  view.setUint32(at + 5, xy.length / 2, true)
  blob.set(new Uint8Array(xy.buffer, xy.byteOffset, xy.byteLength), at + 9)
  return blob
}

/** A polygon or a line of any dimension; of several, the first. Null for anything else, an empty one included. */
export function decodeOutline(blob: Uint8Array): MarkOutline | null {
  const [polygon] = decodePolygons(blob) ?? []
  if (polygon) return { type: 'polygon', polygon }
  const line = decodeTrack(blob, [])
  if (line === null) return null
  const xy = line.xy.slice(0, 2 * (line.segmentStart[1] ?? line.xy.length / 2))
  return xy.length >= 4 ? { type: 'line', xy } : null
}

export function outlineBounds(outline: MarkOutline): Bounds {
  return boundsOf(outline.type === 'polygon' ? outline.polygon.rings[0]! : outline.xy)
}
