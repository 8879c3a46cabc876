import type { Bounds } from '#core/geometry'
import { decodePoint, decodePolygons } from './area-geometry.ts'
import type { Layer } from './contents.ts'
import { vertexBounds } from './geometry-bounds.ts'
import { readGeometryHeader } from './geometry-header.ts'
import { decodeShape } from './land-geometry.ts'
import { decodeOutline } from './mark-geometry.ts'
import { decodeTrack } from './track-geometry.ts'
import { walkGeometry } from './well-known-binary.ts'

const isOf: Record<Layer, { readonly decode: (blob: Uint8Array) => unknown; readonly kind: string }> = {
  areas: { decode: decodePolygons, kind: 'polygon' },
  tracks: { decode: (blob) => decodeTrack(blob, []), kind: 'line' },
  findspots: { decode: decodePoint, kind: 'point' },
  gaps: { decode: decodePolygons, kind: 'polygon' },
  marks: { decode: decodeOutline, kind: 'polygon or line' },
  targets: { decode: decodePoint, kind: 'point' },
  permissions: { decode: decodePolygons, kind: 'polygon' },
  lanes: { decode: (blob) => decodeTrack(blob, []), kind: 'line' },
  constraints: { decode: decodeShape, kind: 'polygon, line or point' },
}

/** What is wrong with a geometry of a layer, as the end of a sentence; null when nothing is. Cost: reads every vertex. */
export function geometryProblem(layer: Layer, blob: Uint8Array | null): string | null {
  // A permission may be for a search area, and then needs no boundary of its own.
  if (blob === null) return layer === 'permissions' ? null : 'has no geometry'
  const header = readGeometryHeader(blob)
  if (header === null) return 'has a geometry that does not start as GeoPackage says it must'
  if (header.srsId !== 4326) return `says that it lies in reference system ${header.srsId}, not 4326`
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  const end = walkGeometry(view, header.bodyAt, () => {})
  if (end < 0) return 'has a geometry that cannot be read'
  if (end !== blob.length) return `has ${blob.length - end} bytes too many after its geometry`
  const bounds = vertexBounds(blob, header.bodyAt)
  if (isOf[layer].kind === 'point' && bounds !== null && !(bounds.minX <= bounds.maxX))
    return 'has no position'
  if (isOf[layer].decode(blob) === null) return `is not a ${isOf[layer].kind}`
  if (header.bounds !== null && bounds !== null && !sameBounds(header.bounds, bounds)) {
    return 'lies outside the envelope that its header states'
  }
  return bounds !== null && bounds.minX <= bounds.maxX && !inDegrees(bounds)
    ? 'lies outside the range of longitude and latitude'
    : null
}

function sameBounds(a: Bounds, b: Bounds): boolean {
  return a.minX === b.minX && a.minY === b.minY && a.maxX === b.maxX && a.maxY === b.maxY
}

function inDegrees(bounds: Bounds): boolean {
  return bounds.minX >= -180 && bounds.maxX <= 180 && bounds.minY >= -90 && bounds.maxY <= 90
}
