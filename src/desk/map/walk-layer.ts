import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import MultiLineString from 'ol/geom/MultiLineString.js'
import Point from 'ol/geom/Point.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import { Circle, Fill, Stroke, Style } from 'ol/style.js'
import { walkColumns } from '#contract'
import { type Look, passRamp } from '#ui'
import type { PlanColours } from './plan-colours.ts'
import { placeInWalk, speedColours, speedLines, trailUntil } from './walk-lines.ts'

/** Wider the faster, so that the steps stay apart without colour. */
const widths = [1.5, 3, 5]

/** One visit cleaned: its speeds in colours, or, at a moment, the walk so far and where the walker was. */
export class WalkLayer {
  readonly #source = new VectorSource()
  readonly layer = new VectorLayer({ source: this.#source, zIndex: 25 })
  #walk: Float64Array | null = null
  #safeMS = 0
  #at: number | null = null
  #look: Look = 'light'
  #colours: PlanColours | null = null

  show(walk: Float64Array | null, safeMS: number, at: number | null): void {
    if (walk === this.#walk && safeMS === this.#safeMS && at === this.#at) return
    this.#walk = walk
    this.#safeMS = safeMS
    this.#at = at
    this.#draw()
  }

  paint(colours: PlanColours, look: Look): void {
    this.#colours = colours
    this.#look = look
    this.#draw()
  }

  #draw(): void {
    this.#source.clear(true)
    const walk = this.#walk
    if (walk === null || walk.length < walkColumns || this.#colours === null) return
    if (this.#at === null) this.#drawSpeeds(walk)
    else this.#drawMoment(walk, this.#at)
  }

  #strokes(colour: string, width: number): Style[] {
    const halo = this.#colours?.halo ?? 'white'
    return [
      new Style({ stroke: new Stroke({ color: halo, width: width + 2 }) }),
      new Style({ stroke: new Stroke({ color: colour, width }) }),
    ]
  }

  #drawSpeeds(walk: Float64Array): void {
    for (const [k, lines] of speedLines(walk, this.#safeMS).entries()) {
      if (lines.length === 0) continue
      const feature = new Feature(new MultiLineString(lines))
      const [r, g, b] = passRamp[this.#look][speedColours[k]!]!
      feature.setStyle(this.#strokes(`rgb(${r} ${g} ${b})`, widths[k]!))
      this.#source.addFeature(feature)
    }
  }

  #drawMoment(walk: Float64Array, at: number): void {
    const { selected, halo } = this.#colours!
    for (const line of trailUntil(walk, at)) {
      const feature = new Feature(new LineString(line))
      feature.setStyle(this.#strokes(selected, 2))
      this.#source.addFeature(feature)
    }
    const place = placeInWalk(walk, at)
    if (place === null) return
    const walker = new Feature(new Point(place))
    walker.setStyle(
      new Style({
        image: new Circle({
          radius: 8,
          fill: new Fill({ color: selected }),
          stroke: new Stroke({ color: halo, width: 3 }),
        }),
      }),
    )
    this.#source.addFeature(walker)
  }
}
