import Feature from 'ol/Feature.js'
import Point from 'ol/geom/Point.js'
import Polygon from 'ol/geom/Polygon.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import Fill from 'ol/style/Fill.js'
import RegularShape from 'ol/style/RegularShape.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import type { PlaceView } from '#contract'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import { faded, type PlanColours } from './plan-colours.ts'

export interface PlaceLayer {
  readonly layer: VectorLayer
  readonly show: (place: PlaceView | null) => void
  readonly paint: (colours: PlanColours) => void
}

/** A square smaller than this, pixels, is marked by a cross as a point is. */
const leastSquare = 20

function cross(colours: PlanColours): Style[] {
  const arms = { points: 4, radius: 12, radius2: 0, angle: 0 }
  return [
    new Style({
      image: new RegularShape({ ...arms, stroke: new Stroke({ color: colours.halo, width: 6 }) }),
    }),
    new Style({
      image: new RegularShape({ ...arms, stroke: new Stroke({ color: colours.selected, width: 2.5 }) }),
      zIndex: 1,
    }),
  ]
}

/** The place that was asked for: a cross, or the square that its reference names. */
export function placeLayer(): PlaceLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 65, renderBuffer: 200 })
  let side = 0
  return {
    layer,
    show: (place) => {
      source.clear(true)
      if (!place || place.easting === null || place.northing === null) return
      side = place.square === null ? 0 : place.precisionM
      source.addFeature(new Feature(new Point([place.easting, place.northing])))
      if (place.square !== null) source.addFeature(new Feature(new Polygon([place.square])))
    },
    paint: (colours) => {
      const mark = cross(colours)
      const fill = new Fill({ color: faded(colours.selected, 0.08) })
      const outline = lineStyles(lineSymbols.square, colours, fill)
      layer.setStyle((feature, metresPerPixel) => {
        const drawsSquare = side / metresPerPixel >= leastSquare
        if (feature.getGeometry()?.getType() === 'Point') return drawsSquare ? [] : mark
        return drawsSquare ? outline : []
      })
    },
  }
}
