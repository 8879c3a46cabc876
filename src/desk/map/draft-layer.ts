import Feature from 'ol/Feature.js'
import MultiPoint from 'ol/geom/MultiPoint.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import Polygon from 'ol/geom/Polygon.js'
import Draw from 'ol/interaction/Draw.js'
import Modify from 'ol/interaction/Modify.js'
import Snap from 'ol/interaction/Snap.js'
import VectorLayer from 'ol/layer/Vector.js'
import type OlMap from 'ol/Map.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import type { AreaDraft } from '../land/area-draft.ts'
import type { Polygons } from '../land/corners.ts'
import { faded, type PlanColours } from './plan-colours.ts'

interface DraftHandlers {
  /** The outline being drawn was closed. */
  readonly closed: (polygons: Polygons) => void
  /** A corner of the outline was moved, added or taken away. */
  readonly changed: (polygons: Polygons) => void
}

const polygonsOf = (geometry: MultiPolygon): Polygons => geometry.getCoordinates() as Polygons

function draftStyles(colours: PlanColours): Style[] {
  return [
    new Style({ stroke: new Stroke({ color: colours.halo, width: 6 }) }),
    new Style({
      stroke: new Stroke({ color: colours.selected, width: 2.5 }),
      fill: new Fill({ color: faded(colours.selected, 0.12) }),
    }),
    new Style({
      image: new CircleStyle({
        radius: 6,
        fill: new Fill({ color: colours.halo }),
        stroke: new Stroke({ color: colours.selected, width: 2.5 }),
      }),
      geometry: (feature) => {
        const geometry = feature.getGeometry()
        if (geometry instanceof MultiPolygon) return new MultiPoint(geometry.getCoordinates().flat(2))
        if (geometry instanceof Polygon) return new MultiPoint(geometry.getCoordinates().flat(1))
        return undefined
      },
    }),
  ]
}

/** The search area being drawn or changed, with its corners to take hold of. */
export class DraftLayer {
  readonly layer: VectorLayer
  readonly #source = new VectorSource()
  readonly #map: OlMap
  readonly #handlers: DraftHandlers
  readonly #snapTo: VectorSource
  #draw: Draw | null = null
  #interactions: (Draw | Modify | Snap)[] = []
  #styles: Style[] = []
  #shown: AreaDraft | null = null

  constructor(map: OlMap, snapTo: VectorSource, handlers: DraftHandlers) {
    this.#map = map
    this.#snapTo = snapTo
    this.#handlers = handlers
    this.layer = new VectorLayer({ source: this.#source, zIndex: 80, updateWhileInteracting: true })
  }

  paint(colours: PlanColours): void {
    this.#styles = draftStyles(colours)
    this.layer.setStyle(this.#styles)
  }

  /** Shows a draft, and lets the pointer draw or change it; null ends that. */
  show(draft: AreaDraft | null): void {
    const before = this.#shown
    this.#shown = draft
    if (draft?.phase !== before?.phase || draft?.id !== before?.id) this.#setInteractions(draft)
    if (draft && draft.polygons === this.#current()) return
    this.#source.clear(true)
    if (draft && draft.polygons.length > 0) {
      const feature = new Feature(new MultiPolygon(draft.polygons))
      feature.set('polygons', draft.polygons, true)
      this.#source.addFeature(feature)
    }
  }

  /** Closes the outline being drawn, if it has corners enough. */
  finish(): void {
    this.#draw?.finishDrawing()
  }

  /** Takes back the last corner of the outline being drawn. */
  removeLastCorner(): void {
    this.#draw?.removeLastPoint()
  }

  #current(): Polygons | null {
    return (this.#source.getFeatures()[0]?.get('polygons') as Polygons | undefined) ?? null
  }

  #setInteractions(draft: AreaDraft | null): void {
    for (const interaction of this.#interactions) this.#map.removeInteraction(interaction)
    this.#interactions = []
    this.#draw = null
    if (!draft) return
    this.#interactions =
      draft.phase === 'draw' ? [this.#newDraw(), new Snap({ source: this.#snapTo })] : [this.#newModify()]
    for (const interaction of this.#interactions) this.#map.addInteraction(interaction)
  }

  #newDraw(): Draw {
    const draw = new Draw({ type: 'Polygon', style: this.#styles, stopClick: true })
    draw.on('drawend', ({ feature }) => {
      const polygon = feature.getGeometry() as Polygon
      // The click that closes the outline must not also choose something under it.
      setTimeout(() => this.#handlers.closed([polygon.getCoordinates() as Polygons[number]]))
    })
    this.#draw = draw
    return draw
  }

  #newModify(): Modify {
    const modify = new Modify({ source: this.#source, style: this.#styles[2]!, pixelTolerance: 12 })
    modify.on('modifyend', () => {
      const feature = this.#source.getFeatures()[0]
      if (!feature) return
      const polygons = polygonsOf(feature.getGeometry() as MultiPolygon)
      feature.set('polygons', polygons, true)
      this.#handlers.changed(polygons)
    })
    return modify
  }
}
