import type { Polygon } from './polygon.ts'

/**
 * Whether a point lies inside a polygon, by the even-odd rule over all its rings: a ray is cast eastwards and crossings are
 * counted. A point on an edge counts on one side only. NaN is never inside. Cost: linear in the vertices.
 */
export function pointInPolygon(x: number, y: number, { rings }: Polygon): boolean {
  let inside = false
  for (const ring of rings) {
    for (let i = 0; i + 3 < ring.length; i += 2) {
      const y0 = ring[i + 1]!
      const y1 = ring[i + 3]!
      if (y0 > y !== y1 > y) {
        const x0 = ring[i]!
        if (x < x0 + ((y - y0) / (y1 - y0)) * (ring[i + 2]! - x0)) inside = !inside
      }
    }
  }
  return inside
}
