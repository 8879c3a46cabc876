import Feature from 'ol/Feature.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import type { Permission } from '#contract'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

export interface BoundaryLayer {
  readonly layer: VectorLayer
  readonly show: (permissions: readonly Permission[]) => void
  readonly paint: (colours: PlanColours) => void
}

/** Boundaries that permissions have of their own, as the bounds of a field are drawn. */
export function boundaryLayer(): BoundaryLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 41, renderBuffer: 200 })
  return {
    layer,
    show: (permissions) => {
      source.clear(true)
      source.addFeatures(
        permissions.flatMap(({ polygons }) => (polygons ? new Feature(new MultiPolygon(polygons)) : [])),
      )
    },
    paint: (colours) => layer.setStyle(lineStyles(lineSymbols.field, colours)),
  }
}
