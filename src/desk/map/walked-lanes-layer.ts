import Feature from 'ol/Feature.js'
import MultiLineString from 'ol/geom/MultiLineString.js'
import VectorImageLayer from 'ol/layer/VectorImage.js'
import VectorSource from 'ol/source/Vector.js'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** Lines as pairs: parts of lanes that were walked, parts that were not, and ways along no lane. */
export interface WalkedLanes {
  readonly walked: readonly (readonly number[])[]
  readonly missed: readonly (readonly number[])[]
  readonly strayed: readonly (readonly number[])[]
}

const symbols = {
  walked: 'laneWalked',
  missed: 'laneMissed',
  strayed: 'strayed',
} as const satisfies Record<keyof WalkedLanes, keyof typeof lineSymbols>
const kinds = ['walked', 'strayed', 'missed'] as const

function pairsOf(xy: readonly number[]): number[][] {
  return Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!])
}

/** A plan as it was walked, each kind of line by its colour and dash. */
export function walkedLanesLayer() {
  const source = new VectorSource()
  const layer = new VectorImageLayer({ source, zIndex: 45, imageRatio: 1.4 })
  return {
    layer,
    show: (shown: WalkedLanes | null): void => {
      source.clear(true)
      if (!shown) return
      for (const kind of kinds) {
        if (shown[kind].length === 0) continue
        const feature = new Feature(new MultiLineString(shown[kind].map(pairsOf)))
        feature.set('kind', kind)
        source.addFeature(feature)
      }
    },
    paint: (colours: PlanColours): void => {
      const styles = Object.fromEntries(
        kinds.map((kind) => [kind, lineStyles(lineSymbols[symbols[kind]], colours)]),
      )
      layer.setStyle((feature) => styles[feature.get('kind') as string])
    },
  }
}
