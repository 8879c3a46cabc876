import type { Coordinate } from 'ol/coordinate.js'
import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import Point from 'ol/geom/Point.js'
import Polygon from 'ol/geom/Polygon.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import { lineSymbols } from '#ui'
import { legsOf, type Measure, mayClose } from '../measure/measured-line.ts'
import { lineStyles } from './line-style.ts'
import { faded, type PlanColours } from './plan-colours.ts'

const labelFont = '600 13px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'

interface MeasureStyles {
  readonly rod: readonly Style[]
  readonly towards: Style
  readonly inside: Style
  readonly point: Style
  /** The first point while a click on it would close the figure. */
  readonly first: Style
  readonly label: (text: string) => Style
}

function measureStyles(colours: PlanColours): MeasureStyles {
  const dot = (radius: number): Style =>
    new Style({
      image: new CircleStyle({
        radius,
        fill: new Fill({ color: colours.halo }),
        stroke: new Stroke({ color: colours.ink, width: 2.5 }),
      }),
      zIndex: 3,
    })
  const bands = lineStyles(lineSymbols.rodBands, colours)
  for (const style of bands) style.setZIndex(2)
  return {
    rod: [...lineStyles(lineSymbols.rod, colours), ...bands],
    towards: new Style({ stroke: new Stroke({ color: colours.ink, width: 1.5, lineDash: [4, 4] }) }),
    inside: new Style({ fill: new Fill({ color: faded(colours.ink, 0.08) }) }),
    point: dot(4.5),
    first: dot(7.5),
    label: (text) =>
      new Style({
        text: new Text({
          text,
          font: labelFont,
          overflow: true,
          fill: new Fill({ color: colours.ink }),
          stroke: new Stroke({ color: colours.halo, width: 4 }),
          offsetY: -14,
        }),
        zIndex: 4,
      }),
  }
}

type Part = 'inside' | 'leg' | 'point' | 'first' | 'towards'

/** The line being measured, banded like a ranging rod, each leg with its length. */
export class MeasureLayer {
  readonly layer: VectorLayer
  readonly #source = new VectorSource()
  readonly #towards = new Feature<LineString>()
  #shown: Measure | null = null

  constructor() {
    this.layer = new VectorLayer({ source: this.#source, zIndex: 85, updateWhileInteracting: true })
    this.#towards.set('part', 'towards', true)
  }

  paint(colours: PlanColours): void {
    const styles = measureStyles(colours)
    this.layer.setStyle((feature) => {
      const part = feature.get('part') as Part
      if (part !== 'leg') return styles[part]
      const text = feature.get('text') as string
      return text === '' ? [...styles.rod] : [...styles.rod, styles.label(text)]
    })
  }

  /** Shows what is measured, with a text for each leg (empty for none); null shows nothing. */
  show(measure: Measure | null, texts: readonly string[]): void {
    this.#shown = measure
    this.#source.clear(true)
    this.#towards.setGeometry(undefined)
    if (!measure) return
    const parts: Feature[] = [this.#towards]
    const add = (part: Part, geometry: LineString | Point | Polygon, text = ''): void => {
      const feature = new Feature<LineString | Point | Polygon>(geometry)
      feature.setProperties({ part, text }, true)
      parts.push(feature)
    }
    const { points, closed } = measure
    if (closed) add('inside', new Polygon([[...points, points[0]!].map((point) => [...point])]))
    for (const [i, [from, to]] of legsOf(measure).entries())
      add('leg', new LineString([[...from], [...to]]), texts[i])
    for (const [i, point] of points.entries())
      add(i === 0 && mayClose(measure) ? 'first' : 'point', new Point([...point]))
    this.#source.addFeatures(parts)
  }

  /** Draws the leg that a click at a place would make; null draws none. */
  pointAt(place: Coordinate | null): void {
    const last = this.#shown?.closed ? undefined : this.#shown?.points.at(-1)
    this.#towards.setGeometry(place && last ? new LineString([[...last], place]) : undefined)
  }

  /** True where a click within reach, metres, of the first point closes the figure. */
  closesAt([easting = 0, northing = 0]: Coordinate, reach: number): boolean {
    if (!this.#shown || !mayClose(this.#shown)) return false
    const [e, n] = this.#shown.points[0]!
    return Math.hypot(easting - e, northing - n) <= reach
  }
}
