import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import type { PlanColours } from './plan-colours.ts'

/** A line between two finds that may be of one object. */
export interface JoinLine {
  readonly from: readonly [number, number]
  readonly to: readonly [number, number]
  /** Drawn whole; one that is only put forward is dashed. */
  readonly accepted: boolean
  /** The distance, as it is written beside the line. */
  readonly text: string
}

/** Joins as lines between findspots, each with its length. */
export function joinLayer() {
  const source = new VectorSource<Feature<LineString>>()
  const layer = new VectorLayer({ source, zIndex: 58 })
  return {
    layer,
    show: (lines: readonly JoinLine[]): void => {
      source.clear(true)
      source.addFeatures(
        lines.map(({ from, to, accepted, text }) => {
          const feature = new Feature(new LineString([[...from], [...to]]))
          feature.setProperties({ accepted, text })
          return feature
        }),
      )
    },
    paint: ({ findspot, halo }: PlanColours): void => {
      layer.setStyle((feature) => {
        const dash = feature.get('accepted') === true ? {} : { lineDash: [6, 6] }
        return [
          new Style({ stroke: new Stroke({ color: halo, width: 5 }) }),
          new Style({
            stroke: new Stroke({ color: findspot, width: 2, ...dash }),
            text: new Text({
              text: String(feature.get('text')),
              font: '600 13px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif',
              fill: new Fill({ color: findspot }),
              stroke: new Stroke({ color: halo, width: 4 }),
              offsetY: -12,
            }),
          }),
        ]
      })
    },
  }
}
