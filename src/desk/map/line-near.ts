import type { Coordinate } from 'ol/coordinate.js'
import type Feature from 'ol/Feature.js'
import type VectorSource from 'ol/source/Vector.js'

export interface LineLayer {
  readonly getVisible: () => boolean
  readonly getSource: () => VectorSource<Feature> | null
}

/** The line or outline of a shown layer that is nearest to a place, if it lies within so many metres. */
export function lineNear(layer: LineLayer, place: Coordinate, reachM: number): Feature | null {
  const nearest = layer.getVisible() ? layer.getSource()?.getClosestFeatureToCoordinate(place) : null
  const [x = Infinity, y = Infinity] = nearest?.getGeometry()?.getClosestPoint(place) ?? []
  const far = Math.hypot(x - (place[0] ?? 0), y - (place[1] ?? 0))
  return nearest && far <= reachM ? nearest : null
}
