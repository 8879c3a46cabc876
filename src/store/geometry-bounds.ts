import { type Bounds, emptyBounds } from '#core/geometry'
import { readGeometryHeader } from './geometry-header.ts'
import { walkGeometry } from './well-known-binary.ts'

/**
 * Bounds of any GeoPackage geometry of the seven basic kinds, in its own units; empty bounds for an empty geometry, null
 * for bytes that cannot be read. Taken from the header where it carries an envelope, else from the vertices.
 * Cost: constant with an envelope, else one pass over the vertices.
 */
export function geometryBounds(blob: Uint8Array): Bounds | null {
  const header = readGeometryHeader(blob)
  if (header === null) return null
  return header.bounds ?? (header.empty ? emptyBounds : vertexBounds(blob, header.bodyAt))
}

/** Bounds from the vertices alone, whatever the header says; null for bytes that cannot be read. */
export function vertexBounds(blob: Uint8Array, bodyAt: number): Bounds | null {
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  let { minX, minY, maxX, maxY } = emptyBounds
  const end = walkGeometry(view, bodyAt, (run) => {
    const step = run.head.stride * 8
    for (let i = 0, at = run.at; i < run.count; i++, at += step) {
      const x = view.getFloat64(at, run.head.little)
      const y = view.getFloat64(at + 8, run.head.little)
      if (x < minX) minX = x
      if (x > maxX) maxX = x
      if (y < minY) minY = y
      if (y > maxY) maxY = y
    }
  })
  return end < 0 ? null : { minX, minY, maxX, maxY }
}
