import Feature from 'ol/Feature.js'
import Point from 'ol/geom/Point.js'
import Modify from 'ol/interaction/Modify.js'
import VectorLayer from 'ol/layer/Vector.js'
import type OlMap from 'ol/Map.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import Text from 'ol/style/Text.js'
import { planColours } from '../map/plan-colours.ts'

interface Mark {
  readonly id: number
  readonly number: number
  /** In the map's own coordinates. */
  readonly place: readonly [number, number]
}

/** A ring whose middle is open, so that what is under it stays seen, and its number beside it. */
function markStyle(number: number, chosen: boolean): Style[] {
  const { selected, halo } = planColours()
  const ring = (width: number, color: string): Style =>
    new Style({ image: new CircleStyle({ radius: chosen ? 9 : 7, stroke: new Stroke({ color, width }) }) })
  const dot = new CircleStyle({ radius: 1.5, fill: new Fill({ color: selected }) })
  const text = new Text({
    text: String(number),
    font: '700 14px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif',
    offsetX: 15,
    offsetY: -11,
    fill: new Fill({ color: selected }),
    stroke: new Stroke({ color: halo, width: 4 }),
  })
  return [ring(chosen ? 7 : 5, halo), ring(chosen ? 4 : 2, selected), new Style({ image: dot, text })]
}

/** The tie points on one of the two maps: drawn with their numbers, chosen by a click, moved by a drag. */
export class TieMarks {
  readonly layer: VectorLayer
  readonly #source = new VectorSource<Feature<Point>>()
  #map: OlMap | null = null

  constructor() {
    this.layer = new VectorLayer({ source: this.#source, zIndex: 60 })
  }

  attach(map: OlMap, moved: (id: number, place: readonly [number, number]) => void): void {
    this.#map = map
    const modify = new Modify({ source: this.#source, pixelTolerance: 12, style: [] })
    modify.on('modifyend', ({ features }) => {
      for (const feature of features.getArray()) {
        const [x = 0, y = 0] = (feature.getGeometry() as Point).getCoordinates()
        moved(feature.getId() as number, [x, y])
      }
    })
    map.addInteraction(modify)
  }

  show(marks: readonly Mark[], chosen: number | null): void {
    this.#source.clear(true)
    this.#source.addFeatures(
      marks.map(({ id, number, place }) => {
        const feature = new Feature(new Point([...place]))
        feature.setId(id)
        feature.setStyle(markStyle(number, id === chosen))
        return feature
      }),
    )
  }

  /** The point at a pixel of the map; null where there is none. */
  at(pixel: number[]): number | null {
    const hit = this.#map?.forEachFeatureAtPixel(pixel, (feature) => feature.getId() as number, {
      layerFilter: (layer) => layer === this.layer,
      hitTolerance: 6,
    })
    return hit ?? null
  }
}
