import type { Coordinate } from 'ol/coordinate.js'
import Feature from 'ol/Feature.js'
import Circle from 'ol/geom/Circle.js'
import LineString from 'ol/geom/LineString.js'
import MultiPoint from 'ol/geom/MultiPoint.js'
import Point from 'ol/geom/Point.js'
import Polygon from 'ol/geom/Polygon.js'
import Draw from 'ol/interaction/Draw.js'
import type Interaction from 'ol/interaction/Interaction.js'
import Modify from 'ol/interaction/Modify.js'
import PointerInteraction from 'ol/interaction/Pointer.js'
import VectorLayer from 'ol/layer/Vector.js'
import type OlMap from 'ol/Map.js'
import type MapBrowserEvent from 'ol/MapBrowserEvent.js'
import VectorSource from 'ol/source/Vector.js'
import CircleStyle from 'ol/style/Circle.js'
import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import type { Mark, MarkKind, NewMark } from '#contract'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** What the pointer has done to a mark. */
type MarkDrag =
  | { readonly easting: number; readonly northing: number; readonly diameterM: number }
  | { readonly outline: Mark['outline'] }

export interface MarkEditorHandlers {
  /** The open mark was let go of at another place or size. */
  readonly dragged: (id: number, drag: MarkDrag) => void
  /** A mark was drawn. */
  readonly drawn: (mark: NewMark) => void
}

/** How near to a handle the pointer takes hold of it, pixels; a finger needs more. */
const reachPixels = 14
const leastDiameter = 0.5
/** A circle of a smaller radius on the screen, pixels, has no handles on its rim: they would hide it, and lie on one another. */
const leastForRim = 24

type Hold = 'middle' | 'rim'

/** Middle and four points of the rim. */
function handlesOf(circle: Circle): { readonly at: Coordinate; readonly hold: Hold }[] {
  const [x = 0, y = 0] = circle.getCenter()
  const r = circle.getRadius()
  const rim = [
    [x, y + r],
    [x + r, y],
    [x, y - r],
    [x - r, y],
  ]
  return [{ at: [x, y], hold: 'middle' }, ...rim.map((at) => ({ at, hold: 'rim' as const }))]
}

/** The open mark with its handles, and the mark being drawn. */
export class MarkEditor {
  readonly layer: VectorLayer
  readonly #map: OlMap
  readonly #handlers: MarkEditorHandlers
  readonly #source = new VectorSource()
  #interactions: Interaction[] = []
  #open: Mark | null = null
  #drawing: MarkKind | null = null
  #styles: Style[] = []
  #handleStyle = new Style()

  constructor(map: OlMap, handlers: MarkEditorHandlers) {
    this.#map = map
    this.#handlers = handlers
    this.layer = new VectorLayer({ source: this.#source, zIndex: 78, updateWhileInteracting: true })
  }

  paint(colours: PlanColours): void {
    this.#styles = lineStyles(lineSymbols.selected, colours)
    this.#handleStyle = new Style({
      image: new CircleStyle({
        radius: 6,
        fill: new Fill({ color: colours.halo }),
        stroke: new Stroke({ color: colours.selected, width: 2.5 }),
      }),
      zIndex: 3,
    })
    const corners = this.#handleStyle.clone()
    corners.setGeometry((feature) => {
      const shape = feature.getGeometry()
      return shape instanceof LineString || shape instanceof Polygon
        ? new MultiPoint(pairsOf(shape))
        : undefined
    })
    this.layer.setStyle((feature, metresPerPixel) => {
      if (!(feature.getGeometry() instanceof Point)) return [...this.#styles, corners]
      const rim = feature.get('rimOf') as number | undefined
      return rim !== undefined && rim < leastForRim * metresPerPixel ? [] : this.#handleStyle
    })
  }

  get drawing(): boolean {
    return this.#drawing !== null
  }

  /** Opens a mark for changing; null closes it. */
  open(mark: Mark | null): void {
    this.#open = mark
    this.#source.clear(true)
    if (this.#drawing !== null) return
    this.#take(mark ? [this.#editing(mark)] : [])
  }

  /** Lets the pointer draw a mark; null ends that. */
  draw(kind: MarkKind | null): void {
    if (kind === this.#drawing) return
    this.#drawing = kind
    this.#source.clear(true)
    this.#take(kind === null ? [] : [this.#newDraw(kind)])
    if (kind === null) this.open(this.#open)
  }

  /** Ends the line or outline being drawn, if it has places enough. */
  finish(): void {
    this.#draw()?.finishDrawing()
  }

  removeLast(): void {
    this.#draw()?.removeLastPoint()
  }

  #draw(): Draw | undefined {
    return this.#interactions.find((each): each is Draw => each instanceof Draw)
  }

  #take(interactions: Interaction[]): void {
    for (const interaction of this.#interactions) this.#map.removeInteraction(interaction)
    this.#interactions = interactions
    for (const interaction of interactions) this.#map.addInteraction(interaction)
  }

  #editing(mark: Mark): Interaction {
    if (mark.diameterM === null) return this.#editingOutline(mark)
    const circle = new Circle([mark.easting, mark.northing], mark.diameterM / 2)
    this.#showCircle(circle)
    return this.#editingCircle(mark, circle)
  }

  #showCircle(circle: Circle): void {
    this.#source.clear(true)
    const handles = handlesOf(circle).map(({ at, hold }) => {
      const handle = new Feature(new Point(at))
      if (hold === 'rim') handle.set('rimOf', circle.getRadius(), true)
      return handle
    })
    this.#source.addFeatures([new Feature(circle), ...handles] as Feature[])
  }

  #editingCircle(mark: Mark, circle: Circle): Interaction {
    let hold: Hold | null = null
    let off: Coordinate = [0, 0]
    const near = ({ coordinate: [x = 0, y = 0] }: MapBrowserEvent) => {
      const metresPerPixel = this.#map.getView().getResolution() ?? 1
      const hasRim = circle.getRadius() >= leastForRim * metresPerPixel
      return handlesOf(circle).find(
        ({ at, hold }) =>
          (hasRim || hold === 'middle') && Math.hypot(at[0]! - x, at[1]! - y) <= reachPixels * metresPerPixel,
      )
    }
    return new PointerInteraction({
      handleDownEvent: (event) => {
        const handle = near(event)
        if (!handle) return false
        hold = handle.hold
        const [x = 0, y = 0] = circle.getCenter()
        off = [x - event.coordinate[0]!, y - event.coordinate[1]!]
        return true
      },
      handleDragEvent: ({ coordinate: [x = 0, y = 0] }) => {
        if (hold === 'middle') circle.setCenter([x + off[0]!, y + off[1]!])
        else {
          const [cx = 0, cy = 0] = circle.getCenter()
          circle.setRadius(Math.max(leastDiameter / 2, Math.hypot(x - cx, y - cy)))
        }
        this.#showCircle(circle)
      },
      handleUpEvent: () => {
        const [easting = 0, northing = 0] = circle.getCenter()
        hold = null
        this.#handlers.dragged(mark.id, { easting, northing, diameterM: 2 * circle.getRadius() })
        return false
      },
      handleMoveEvent: (event) => {
        const viewport = this.#map.getViewport()
        const handle = near(event)
        if (viewport && handle) viewport.style.cursor = handle.hold === 'middle' ? 'move' : 'ew-resize'
      },
    })
  }

  #editingOutline(mark: Mark): Interaction {
    const shape = mark.kind === 'line' ? new LineString(mark.outline) : new Polygon([mark.outline])
    this.#source.addFeature(new Feature(shape))
    const modify = new Modify({ source: this.#source, style: this.#handleStyle, pixelTolerance: reachPixels })
    modify.on('modifyend', () => this.#handlers.dragged(mark.id, { outline: pairsOf(shape) }))
    return modify
  }

  #newDraw(kind: MarkKind): Draw {
    const round = kind === 'ring' || kind === 'pit'
    const type = round ? 'Circle' : kind === 'line' ? 'LineString' : 'Polygon'
    const draw = new Draw({ type, style: [...this.#styles, this.#handleStyle], stopClick: true })
    draw.on('drawend', ({ feature }) => {
      const made = drawnMark(kind, feature.getGeometry())
      // The click that ends it must not also choose something under it.
      if (made) setTimeout(() => this.#handlers.drawn(made))
    })
    return draw
  }
}

const pairsOf = (shape: LineString | Polygon): Mark['outline'] =>
  (shape instanceof LineString ? shape.getCoordinates() : shape.getCoordinates()[0]!) as Mark['outline']

function drawnMark(kind: MarkKind, shape: unknown): NewMark | null {
  if (shape instanceof Circle && (kind === 'ring' || kind === 'pit')) {
    const [easting = 0, northing = 0] = shape.getCenter()
    const diameterM = 2 * shape.getRadius()
    return diameterM >= leastDiameter ? { kind, easting, northing, diameterM } : null
  }
  const drawn = shape instanceof LineString || shape instanceof Polygon
  return drawn && (kind === 'line' || kind === 'enclosure') ? { kind, outline: pairsOf(shape) } : null
}
