import type { Bounds } from '#core/geometry'

/** GeoPackage 1.3 clause 2.1.3.1: the header before the well-known binary of every geometry. */
export interface GeometryHeader {
  readonly srsId: number
  readonly empty: boolean
  /** The x and y part of the envelope, where the header carries one. */
  readonly bounds: Bounds | null
  /** Where the well-known binary starts. */
  readonly bodyAt: number
}

/** Bytes of envelope for codes 0 to 4: none, xy, xyz, xym, xyzm. Codes 5 to 7 are not valid. */
const envelopeBytes = [0, 32, 48, 48, 64]
const headerBytesWithBounds = 40
const headerBytesWithout = 8

/** Null for bytes that do not start as a GeoPackage geometry, or that use the extended form (flag X). */
export function readGeometryHeader(blob: Uint8Array): GeometryHeader | null {
  if (blob.length < headerBytesWithout || blob[0] !== 0x47 || blob[1] !== 0x50) return null
  const flags = blob[3]!
  const envelope = envelopeBytes[(flags >> 1) & 7]
  if (envelope === undefined || flags & 0x20 || blob.length < headerBytesWithout + envelope) return null
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  const little = (flags & 1) === 1
  const bounds =
    envelope === 0
      ? null
      : {
          minX: view.getFloat64(8, little),
          maxX: view.getFloat64(16, little),
          minY: view.getFloat64(24, little),
          maxY: view.getFloat64(32, little),
        }
  return {
    srsId: view.getInt32(4, little),
    empty: (flags & 0x10) !== 0,
    bounds: bounds && Number.isFinite(bounds.minX) ? bounds : null,
    bodyAt: headerBytesWithout + envelope,
  }
}

/**
 * Writes a little-endian header for WGS84 at the start of `blob` and returns where the body goes. Empty bounds set the
 * empty flag; `bounds` null writes no envelope, as is usual for points.
 */
export function writeGeometryHeader(blob: Uint8Array, bounds: Bounds | null): number {
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  const empty = bounds !== null && bounds.minX > bounds.maxX
  blob[0] = 0x47
  blob[1] = 0x50
  blob[2] = 0
  blob[3] = 1 | (bounds === null || empty ? 0 : 1 << 1) | (empty ? 0x10 : 0)
  view.setInt32(4, 4326, true)
  if (bounds === null || empty) return headerBytesWithout
  view.setFloat64(8, bounds.minX, true)
  view.setFloat64(16, bounds.maxX, true)
  view.setFloat64(24, bounds.minY, true)
  view.setFloat64(32, bounds.maxY, true)
  return headerBytesWithBounds
}

/** Bytes that `writeGeometryHeader` will take. */
export function geometryHeaderBytes(bounds: Bounds | null): number {
  return bounds === null || bounds.minX > bounds.maxX ? headerBytesWithout : headerBytesWithBounds
}
