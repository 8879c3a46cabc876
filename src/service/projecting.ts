import type { Polygon } from '#core/geometry'

/** One direction of a planar grid: `grid.forward` or `grid.inverse`. */
type Step = (input: Float64Array, out: Float64Array) => void

/** A new array of converted pairs; a pair that the grid does not reach becomes NaN. */
export function projected(xy: Float64Array, step: Step): Float64Array {
  const out = new Float64Array(xy.length)
  step(xy, out)
  return out
}

export function projectedPolygons(polygons: readonly Polygon[], step: Step): Polygon[] {
  return polygons.map(({ rings }) => ({ rings: rings.map((ring) => projected(ring, step)) }))
}
