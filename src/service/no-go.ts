import { type Bounds, boundsOf, type Polygon, pointInPolygon, ringMeetings } from '#core/geometry'

/** Ground with parts taken out of it. */
export interface GroundWithout {
  readonly polygons: Polygon[]
  /** Index of each part that reaches over an edge, so that it could not be taken out whole. */
  readonly across: readonly number[]
}

/**
 * Takes parts out of ground as holes: those that lie wholly inside one polygon and touch none of its rings. A part that reaches over an edge is
 * left in, and told of. What lies outside altogether changes nothing.
 * Cost: each part against each polygon whose bounds it meets.
 */
export function withoutParts(ground: readonly Polygon[], parts: readonly Polygon[]): GroundWithout {
  const polygons = [...ground]
  const across: number[] = []
  parts.forEach((part, p) => {
    const ring = part.rings[0]
    if (ring === undefined) return
    const bounds = boundsOf(ring)
    polygons.forEach((polygon, i) => {
      if (!meets(bounds, boundsOf(polygon.rings[0]!))) return
      const place = placeOf(ring, polygon)
      if (place === 'inside') polygons[i] = { rings: [...polygon.rings, ring] }
      if (place === 'across') across.push(p)
    })
  })
  return { polygons, across }
}

const meets = (a: Bounds, b: Bounds): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY

function placeOf(ring: Float64Array, polygon: Polygon): 'inside' | 'outside' | 'across' {
  if (polygon.rings.some((own) => ringMeetings([ring, own], 1).length > 0)) return 'across'
  if (pointInPolygon(ring[0]!, ring[1]!, polygon)) {
    const holds = polygon.rings.slice(1).some((hole) => pointInPolygon(hole[0]!, hole[1]!, { rings: [ring] }))
    return holds ? 'across' : 'inside'
  }
  const [outer] = polygon.rings
  return pointInPolygon(outer![0]!, outer![1]!, { rings: [ring] }) ? 'across' : 'outside'
}
