import { type Bounds, boundsOf, emptyBounds, joinBounds } from './bounds.ts'

/**
 * One polygon. `rings[0]` is the outer ring, the rest are holes. A ring is interleaved x, y pairs and closed: its last
 * pair equals its first. Winding is not relied on; inside is by the even-odd rule.
 */
export interface Polygon {
  readonly rings: readonly Float64Array[]
}

/** Polygons in one planar grid, in metres. Several parts are allowed; they are taken not to overlap. */
export interface PlanarArea {
  readonly epsg: number
  readonly polygons: readonly Polygon[]
}

/**
 * Signed area of a closed ring by the shoelace sum, positive when counter-clockwise. Units: those of the ring, squared.
 * Summed relative to the first vertex, so large eastings and northings cost no precision.
 */
export function ringArea(ring: Float64Array): number {
  const x0 = ring[0] ?? 0
  const y0 = ring[1] ?? 0
  let twice = 0
  for (let i = 0; i + 3 < ring.length; i += 2) {
    twice += (ring[i]! - x0) * (ring[i + 3]! - y0) - (ring[i + 2]! - x0) * (ring[i + 1]! - y0)
  }
  return twice / 2
}

/** Bounds of all polygons of an area; empty where it has none. */
export function areaBounds({ polygons }: PlanarArea): Bounds {
  return polygons.flatMap(({ rings }) => rings.map(boundsOf)).reduce(joinBounds, emptyBounds)
}

/** Area of a polygon: outer ring less its holes, never negative for a valid polygon. */
export function polygonArea(polygon: Polygon): number {
  return polygon.rings.reduce((sum, ring, i) => sum + (i === 0 ? 1 : -1) * Math.abs(ringArea(ring)), 0)
}
