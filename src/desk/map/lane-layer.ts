import Feature from 'ol/Feature.js'
import MultiLineString from 'ol/geom/MultiLineString.js'
import Point from 'ol/geom/Point.js'
import type BaseLayer from 'ol/layer/Base.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorImageLayer from 'ol/layer/VectorImage.js'
import VectorSource from 'ol/source/Vector.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import type { PlannedLane } from '#contract'
import { lineSymbols } from '#ui'
import { wordsAbove } from './constraint-layer.ts'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** Lanes to be drawn, with the walks between them where these are known. */
export interface ShownLanes {
  readonly lanes: readonly PlannedLane[]
  readonly ways: readonly (readonly number[])[]
}

export interface LaneLayer {
  readonly layers: readonly BaseLayer[]
  readonly show: (shown: ShownLanes | null) => void
  readonly paint: (colours: PlanColours) => void
}

const nameFont = '700 14px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'

function pairsOf(xy: readonly number[]): number[][] {
  return Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!])
}

/** Lanes of a plan, one shape for all of them so that thousands cost little; where each walker starts stands a word. */
export function laneLayer(): LaneLayer {
  const source = new VectorSource()
  const layer = new VectorImageLayer({ source, zIndex: 44, imageRatio: 1.4 })
  const starts = new VectorSource()
  // Above all lines: a word crossed by lanes cannot be read.
  const startLayer = new VectorLayer({ source: starts, zIndex: wordsAbove, renderBuffer: 100 })
  return {
    layers: [layer, startLayer],
    show: (shown) => {
      source.clear(true)
      starts.clear(true)
      if (!shown || shown.lanes.length === 0) return
      const lanes = new Feature(new MultiLineString(shown.lanes.map(({ xy }) => pairsOf(xy))))
      lanes.set('kind', 'lane')
      const ways = new Feature(new MultiLineString(shown.ways.map(pairsOf)))
      ways.set('kind', 'way')
      const walkers = shown.lanes.reduce((most, { walker }) => Math.max(most, walker), 1)
      const words = shown.lanes
        .filter(({ number }) => number === 1)
        .map(({ walker, xy }) => {
          const start = new Feature(new Point([xy[0]!, xy[1]!]))
          start.set('text', walkers > 1 ? `Start ${walker}` : 'Start')
          return start
        })
      source.addFeatures([ways, lanes])
      starts.addFeatures(words)
    },
    paint: (colours) => {
      const lane = lineStyles(lineSymbols.lane, colours)
      const way = lineStyles(lineSymbols.way, colours)
      layer.setStyle((feature) => (feature.get('kind') === 'lane' ? lane : way))
      startLayer.setStyle(
        (feature) =>
          new Style({
            text: new Text({
              text: String(feature.get('text')),
              font: nameFont,
              offsetY: -12,
              fill: new Fill({ color: colours.ink }),
              stroke: new Stroke({ color: colours.halo, width: 4 }),
            }),
          }),
      )
    },
  }
}
