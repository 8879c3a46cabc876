import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import Point from 'ol/geom/Point.js'
import Polygon from 'ol/geom/Polygon.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
import Fill from 'ol/style/Fill.js'
import RegularShape from 'ol/style/RegularShape.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import type { Mark, MarkState, Target } from '#contract'
import { lineSymbols, targetReach } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

const signFont = '700 15px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'
/** A mark smaller than this on the screen, pixels, is shown by its sign alone: no dash can be told on so short a line. */
const leastForLine = 22

export interface MarkLayer {
  readonly layer: VectorLayer
  readonly show: (marks: readonly Mark[]) => void
  /** Hides one mark, which is being changed and is drawn elsewhere; null hides none. */
  readonly hide: (id: number | null) => void
  readonly paint: (colours: PlanColours) => void
}

/** What stands for a mark: an empty circle for a candidate, a dot for one that is accepted, ? and × for the others. */
function signOf(state: MarkState, colours: PlanColours): Style {
  const halo = new Stroke({ color: colours.halo, width: 3 })
  const fill = new Fill({ color: colours.mark })
  if (state === 'candidate') {
    const ring = new Stroke({ color: colours.mark, width: 2 })
    return new Style({
      image: new CircleStyle({ radius: 4.5, fill: new Fill({ color: colours.halo }), stroke: ring }),
    })
  }
  if (state === 'accepted') return new Style({ image: new CircleStyle({ radius: 3.5, fill, stroke: halo }) })
  return new Style({
    text: new Text({ text: state === 'unsure' ? '?' : '×', font: signFont, fill, stroke: halo }),
  })
}

const shapeOf = ({ kind, outline }: Mark): LineString | Polygon =>
  kind === 'line' ? new LineString(outline) : new Polygon([outline])

/** The marks, each with the dash of what was decided of it and a sign at its middle. */
export function markLayer(): MarkLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 45, renderBuffer: 200, updateWhileInteracting: true })
  let hidden: number | null = null
  return {
    layer,
    show: (marks) => {
      source.clear(true)
      source.addFeatures(
        marks.map((mark) => {
          const feature = new Feature<LineString | Polygon>(shapeOf(mark))
          feature.setId(mark.id)
          feature.setProperties({ state: mark.state, middle: [mark.easting, mark.northing] }, true)
          return feature
        }),
      )
    },
    hide: (id) => {
      hidden = id
      layer.changed()
    },
    paint: (colours) => {
      const styles = (state: MarkState): { readonly line: Style[]; readonly sign: Style } => ({
        line: lineStyles(lineSymbols[state], colours),
        sign: signOf(state, colours),
      })
      const of = {
        candidate: styles('candidate'),
        accepted: styles('accepted'),
        unsure: styles('unsure'),
        rejected: styles('rejected'),
      }
      layer.setStyle((feature, metresPerPixel) => {
        if (feature.getId() === hidden) return []
        const state = feature.get('state') as MarkState
        const { line, sign } = of[state]
        const [west = 0, south = 0, east = 0, north = 0] = feature.getGeometry()?.getExtent() ?? []
        const isSmall = Math.max(east - west, north - south) < leastForLine * metresPerPixel
        // A candidate that is large enough is told by its dash, and its middle stays free to be looked at.
        if (!isSmall && state === 'candidate') return line
        const placed = sign.clone()
        placed.setGeometry(new Point(feature.get('middle') as number[]))
        return isSmall ? [placed] : [...line, placed]
      })
    },
  }
}

export interface TargetLayer {
  readonly layer: VectorLayer
  readonly show: (targets: readonly Target[]) => void
  readonly choose: (id: number | null) => void
  readonly paint: (colours: PlanColours) => void
}

/** The targets: a wedge whose point stands on the place, as a peg in the ground does. */
export function targetLayer(): TargetLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 62, renderBuffer: 200 })
  let chosen: number | null = null
  return {
    layer,
    show: (targets) => {
      source.clear(true)
      source.addFeatures(
        targets.map(({ id, easting, northing }) => {
          const feature = new Feature(new Point([easting, northing]))
          feature.setId(id)
          return feature
        }),
      )
    },
    choose: (id) => {
      chosen = id
      layer.changed()
    },
    paint: (colours) => {
      const peg = (fill: string, reach: number): Style =>
        new Style({
          image: new RegularShape({
            points: 3,
            radius: reach,
            rotation: Math.PI,
            displacement: [0, reach],
            fill: new Fill({ color: fill }),
            stroke: new Stroke({ color: colours.halo, width: 2.5, lineJoin: 'round' }),
          }),
        })
      const plain = peg(colours.ink, targetReach.plain)
      const open = peg(colours.selected, targetReach.selected)
      layer.setStyle((feature) => (feature.getId() === chosen ? open : plain))
    },
  }
}
