import type { Coordinate } from 'ol/coordinate.js'
import { defaults as defaultInteractions } from 'ol/interaction/defaults.js'
import type BaseLayer from 'ol/layer/Base.js'
import TileLayer from 'ol/layer/Tile.js'
import OlMap from 'ol/Map.js'
import Overlay from 'ol/Overlay.js'
import type Projection from 'ol/proj/Projection.js'
import type TileSource from 'ol/source/Tile.js'
import type View from 'ol/View.js'
import type { AreaView } from '#contract'
import { groundLayer } from '../map/ground-layer.ts'
import { planColours } from '../map/plan-colours.ts'
import { areaLayer } from '../map/polygon-layer.ts'
import { PictureStack, type ShownPicture, type StackHandlers } from './picture-stack.ts'

export interface PaneHandlers extends StackHandlers {
  /** The pointer is over this place; null once it has left. */
  readonly pointed: (place: Coordinate | null) => void
  readonly clicked?: (place: Coordinate) => void
}

/** A map beside the main one: paper, pictures and outlines in the same grid; with the same view it moves as that does. */
export class PaneMap {
  readonly map: OlMap
  readonly #stack: PictureStack
  readonly #base = new TileLayer({ zIndex: 0.5 })
  readonly #areas = areaLayer()
  readonly #cross: Overlay
  readonly #projection: Projection
  #colours = planColours()

  constructor(target: HTMLElement, view: View, handlers: PaneHandlers, more: readonly BaseLayer[] = []) {
    this.#projection = view.getProjection()
    this.#stack = new PictureStack(handlers)
    this.map = new OlMap({
      target,
      view,
      controls: [],
      interactions: defaultInteractions({
        altShiftDragRotate: false,
        pinchRotate: false,
        doubleClickZoom: false,
      }),
      keyboardEventTarget: target,
      layers: [groundLayer(() => this.#colours), this.#base, this.#stack.group, this.#areas.layer, ...more],
    })
    const element = document.createElement('div')
    element.style.cssText =
      'width:25px;height:25px;pointer-events:none;background:linear-gradient(var(--selected),var(--selected)) center/2px 100% no-repeat,linear-gradient(var(--selected),var(--selected)) center/100% 2px no-repeat;filter:drop-shadow(0 0 1px var(--halo)) drop-shadow(0 0 1px var(--halo))'
    this.#cross = new Overlay({ element, positioning: 'center-center', stopEvent: false })
    this.map.addOverlay(this.#cross)
    this.map.on('pointermove', ({ coordinate }) => handlers.pointed(coordinate))
    this.map.on('click', ({ coordinate }) => handlers.clicked?.(coordinate))
    target.addEventListener('pointerleave', () => handlers.pointed(null))
    this.#areas.paint(this.#colours)
  }

  showPictures(pictures: readonly ShownPicture[]): void {
    this.#stack.show(pictures, this.#projection)
  }

  /** What lies below all pictures; null for nothing. */
  showBase(source: TileSource | null): void {
    this.#base.setSource(source)
  }

  showAreas(areas: readonly AreaView[]): void {
    this.#areas.show(areas)
  }

  /** Reads the colours of the look now shown. */
  paint(): void {
    this.#colours = planColours()
    this.#areas.paint(this.#colours)
    this.map.render()
  }

  /** Where the cross stands; null hides it. */
  showCross(place: readonly number[] | null): void {
    this.#cross.setPosition(place ? [...place] : undefined)
  }

  resize(): void {
    this.map.updateSize()
  }

  close(): void {
    this.#stack.clear()
    this.map.setTarget(undefined)
    // The view is the main map's: it lives on.
    this.map.setView(null)
    this.map.dispose()
  }
}
