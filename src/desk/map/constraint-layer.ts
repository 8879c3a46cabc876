import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import Point from 'ol/geom/Point.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import Fill from 'ol/style/Fill.js'
import RegularShape from 'ol/style/RegularShape.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import type { Constraint, ConstraintSet } from '#contract'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import { faded, type PlanColours } from './plan-colours.ts'

export interface ConstraintLayer {
  readonly layer: VectorLayer
  readonly show: (sets: readonly ConstraintSet[]) => void
  readonly paint: (colours: PlanColours) => void
}

const nameFont = '600 13px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'
/** Metres a pixel from which names would crowd. */
const namesUpTo = 3

function featureOf({ name, polygons, line, point }: Constraint): Feature {
  const shape = point ? new Point(point) : line ? new LineString(line) : new MultiPolygon(polygons)
  const feature = new Feature(shape)
  feature.set('name', name)
  return feature
}

/** What is to be left alone: outlined, named, and crossed where it is a place. */
export function constraintLayer(): ConstraintLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 42, renderBuffer: 200 })
  return {
    layer,
    show: (sets) => {
      source.clear(true)
      source.addFeatures(sets.flatMap(({ constraints }) => constraints.map(featureOf)))
    },
    paint: (colours) => {
      const lines = lineStyles(lineSymbols.constraint, colours, new Fill({ color: faded(colours.gap, 0.1) }))
      const cross = new Style({
        image: new RegularShape({
          points: 4,
          radius: 9,
          radius2: 0,
          angle: Math.PI / 4,
          stroke: new Stroke({ color: colours.gap, width: 3 }),
        }),
      })
      layer.setStyle((feature, metresPerPixel) => {
        const style = feature.getGeometry()?.getType() === 'Point' ? [cross] : lines
        if (metresPerPixel > namesUpTo) return style
        const text = new Text({
          text: String(feature.get('name')),
          font: nameFont,
          offsetY: 16,
          fill: new Fill({ color: colours.ink }),
          stroke: new Stroke({ color: colours.halo, width: 4 }),
        })
        return [...style, new Style({ text })]
      })
    },
  }
}
