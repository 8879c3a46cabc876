import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** A line that lanes are to lie along, as it is drawn. */
export interface GuideLayer {
  readonly layer: VectorLayer
  readonly show: (places: readonly (readonly [number, number])[]) => void
  readonly paint: (colours: PlanColours) => void
}

export function guideLayer(): GuideLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 61 })
  return {
    layer,
    show: (places) => {
      source.clear(true)
      if (places.length > 0) source.addFeature(new Feature(new LineString(places.map((place) => [...place]))))
    },
    paint: (colours) =>
      layer.setStyle([...lineStyles(lineSymbols.rod, colours), ...lineStyles(lineSymbols.rodBands, colours)]),
  }
}
