import type { Polygon } from '#core/geometry'
import { decodePoint, decodePolygons, encodeMultiPolygon, encodePoint } from './area-geometry.ts'
import { encodeOutline } from './mark-geometry.ts'
import { decodeTrack } from './track-geometry.ts'

/** Ground, a line or a place in WGS84. */
export type LandShape =
  | { readonly type: 'polygons'; readonly polygons: readonly Polygon[] }
  | { readonly type: 'line'; readonly xy: Float64Array }
  | { readonly type: 'point'; readonly lon: number; readonly lat: number }

/** MULTIPOLYGON, LINESTRING or POINT. */
export function encodeShape(shape: LandShape): Uint8Array {
  if (shape.type === 'polygons') return encodeMultiPolygon(shape.polygons)
  return shape.type === 'line' ? encodeOutline(shape) : encodePoint(shape.lon, shape.lat)
}

/** A shape of any dimension; of several lines, the first. Null for anything else, an empty one included. */
export function decodeShape(blob: Uint8Array): LandShape | null {
  const polygons = decodePolygons(blob) ?? []
  if (polygons.length > 0) return { type: 'polygons', polygons }
  const point = decodePoint(blob)
  if (point) return { type: 'point', lon: point.x, lat: point.y }
  const xy = decodeLine(blob)
  return xy && { type: 'line', xy }
}

/** The first line of a geometry; null where it has none of two places. Cost: one copy. */
export function decodeLine(blob: Uint8Array): Float64Array | null {
  const line = decodeTrack(blob, [])
  if (line === null) return null
  const xy = line.xy.slice(0, 2 * (line.segmentStart[1] ?? line.xy.length / 2))
  return xy.length >= 4 ? xy : null
}
