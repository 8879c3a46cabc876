import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import Point from 'ol/geom/Point.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
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
  readonly layers: readonly VectorLayer[]
  readonly show: (sets: readonly ConstraintSet[]) => void
  readonly paint: (colours: PlanColours) => void
}

const nameFont = '600 13px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'
/** Narrower than this it is not seen; wider than this it covers the window whatever its width. */
const [leastClearPixels, mostClearPixels] = [1, 4000]
/** Where words of the land are drawn: above lanes and lines, below what is chosen. */
export const wordsAbove = 64
/** Metres a pixel from which names would crowd. */
const namesUpTo = 3

function featureOf({ name, polygons, line, point }: Constraint, bufferM: number): Feature {
  const shape = point ? new Point(point) : line ? new LineString(line) : new MultiPolygon(polygons)
  const feature = new Feature(shape)
  feature.setProperties({ name, bufferM })
  return feature
}

/** The ground to be kept clear: so many pixels about a place, a line or an outline, as wide as it is on the ground. */
function keptClear(place: boolean, pixels: number, colours: PlanColours): Style[] {
  if (pixels < leastClearPixels) return []
  const colour = faded(colours.gap, 0.16)
  if (place)
    return [
      new Style({
        image: new CircleStyle({
          radius: Math.min(pixels, mostClearPixels),
          fill: new Fill({ color: colour }),
          stroke: new Stroke({ color: colours.gap, width: 1, lineDash: [2, 4] }),
        }),
      }),
    ]
  const width = 2 * Math.min(pixels, mostClearPixels)
  return [new Style({ stroke: new Stroke({ color: colour, width, lineCap: 'round', lineJoin: 'round' }) })]
}

/** What is to be left alone: outlined, named, crossed where it is a place, and about it what is to be kept clear. */
export function constraintLayer(): ConstraintLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 42, renderBuffer: 600 })
  const names = new VectorLayer({ source, zIndex: wordsAbove, renderBuffer: 200 })
  return {
    layers: [layer, names],
    show: (sets) => {
      source.clear(true)
      source.addFeatures(
        sets.flatMap(({ bufferM, constraints }) => constraints.map((each) => featureOf(each, bufferM))),
      )
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
        const place = feature.getGeometry()?.getType() === 'Point'
        const clear = keptClear(place, Number(feature.get('bufferM')) / metresPerPixel, colours)
        return [...clear, ...(place ? [cross] : lines)]
      })
      names.setStyle((feature, metresPerPixel) => {
        if (metresPerPixel > namesUpTo) return []
        const text = new Text({
          text: String(feature.get('name')),
          font: nameFont,
          offsetY: 16,
          fill: new Fill({ color: colours.ink }),
          stroke: new Stroke({ color: colours.halo, width: 4 }),
        })
        return new Style({ text })
      })
    },
  }
}
