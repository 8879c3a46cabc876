import LayerGroup from 'ol/layer/Group.js'
import TileLayer from 'ol/layer/Tile.js'
import type Projection from 'ol/proj/Projection.js'
import type RenderEvent from 'ol/render/Event.js'
import { getRenderPixel } from 'ol/render.js'
import TileImage from 'ol/source/TileImage.js'
import TileGrid from 'ol/tilegrid/TileGrid.js'
import type { Layer } from '#contract'
import type { LayerLook } from './layer-looks.ts'
import { type TileAddress, tileAddress, tilePixels, tileQuery, wholeTile } from './tile-address.ts'
import { viewWords } from './view-words.ts'

/** One layer on the map. `side` keeps it to one side of the divider. */
export interface ShownPicture {
  readonly layer: Layer
  readonly look: LayerLook
  readonly side?: 'left' | 'right' | undefined
}

/** Waits until the server has made ready what a view needs; rejects with the sentence to show. */
type TileWaiter = (address: string, signal: AbortSignal) => Promise<unknown>

export interface StackHandlers {
  readonly wait: TileWaiter
  readonly failed: (error: unknown) => void
}

/** Above the paper, below the cover. */
const lowest = 1

/** The tile grid of a layer, with its levels as the server counts them: the finest is 0. */
function gridOf({ bounds, tileM, levels }: Layer): TileGrid {
  const [west, south, east, north] = bounds!
  return new TileGrid({
    origin: [west, north],
    resolutions: Array.from({ length: levels }, (_, z) => tileM * 2 ** (levels - 1 - z)),
    tileSize: tilePixels,
    extent: [west, south, east, north],
  })
}

/** One layer's tiles. What it showed stays until what it is to show is there. */
class StackedPicture {
  readonly layer: TileLayer<TileImage>
  readonly shape: string
  #look: Pick<ShownPicture, 'look' | 'side'>
  #wanted = ''
  #waiting: AbortController | null = null
  readonly #handlers: StackHandlers
  readonly #divider: () => number

  constructor(shown: ShownPicture, projection: Projection, handlers: StackHandlers, divider: () => number) {
    const { layer } = shown
    this.shape = shapeOf(layer)
    this.#look = shown
    this.#handlers = handlers
    this.#divider = divider
    const source = new TileImage({ projection, tileGrid: gridOf(layer), transition: 0 })
    this.layer = new TileLayer({ source, extent: [...layer.bounds!], preload: 0 })
    this.layer.on('prerender', (event) => this.#before(event))
    this.layer.on('postrender', (event) => (event.context as CanvasRenderingContext2D).restore())
    this.show(shown)
  }

  show(shown: ShownPicture): void {
    const { layer, look } = shown
    this.#look = shown
    this.layer.setOpacity(look.opacity)
    const key = tileQuery(layer, look.view)
    if (key !== this.#wanted) this.#goTo(key, shown)
    this.layer.changed()
  }

  close(): void {
    this.#waiting?.abort()
    this.layer.setSource(null)
  }

  #goTo(key: string, { layer, look }: ShownPicture): void {
    this.#wanted = key
    this.#waiting?.abort()
    this.#waiting = null
    const address = tileAddress(layer, look.view)
    // A browser opens few connections to one server: tiles that must wait for long work would keep all else waiting.
    if (layer.ready && !viewWords[look.view.view].far) {
      this.#take(key, layer, address)
      return
    }
    const waiting = new AbortController()
    this.#waiting = waiting
    this.#handlers.wait(wholeTile(layer, look.view).address, waiting.signal).then(
      () => {
        if (!waiting.signal.aborted) this.#take(key, layer, address)
      },
      (error: unknown) => {
        if (!waiting.signal.aborted) this.#handlers.failed(error)
      },
    )
  }

  #take(key: string, { levels }: Layer, address: TileAddress): void {
    this.layer.getSource()?.setTileUrlFunction(([z, x, y]) => address(levels - 1 - z!, x!, y!), key)
  }

  /** Blending and the divider hold for this layer alone: what is set here is taken back after it. */
  #before(event: RenderEvent): void {
    const pen = event.context as CanvasRenderingContext2D
    pen.save()
    const { look, side } = this.#look
    if (look.blend !== 'normal') pen.globalCompositeOperation = look.blend
    if (side === undefined) return
    const [width = 0, height = 0] = event.frameState?.size ?? []
    const at = width * this.#divider()
    const [from, to] = side === 'left' ? [0, at] : [at, width]
    pen.beginPath()
    const corners = [
      [from, 0],
      [to, 0],
      [to, height],
      [from, height],
    ]
    for (const corner of corners) {
      const [x = 0, y = 0] = getRenderPixel(event, corner)
      pen.lineTo(x, y)
    }
    pen.closePath()
    pen.clip()
  }
}

/** What the tile grid follows from: while it is the same, tiles are kept. */
const shapeOf = ({ id, bounds, tileM, levels }: Layer): string => JSON.stringify([id, bounds, tileM, levels])

/** The images and terrain models of a map, one above another. */
export class PictureStack {
  readonly group = new LayerGroup()
  readonly #handlers: StackHandlers
  readonly #stacked = new Map<number, StackedPicture>()
  #projection: Projection | null = null
  #divider = 0.5

  constructor(handlers: StackHandlers) {
    this.#handlers = handlers
  }

  /** Shows these, the uppermost first, and nothing else. Those that lie nowhere are passed over. */
  show(pictures: readonly ShownPicture[], projection: Projection): void {
    if (projection !== this.#projection) this.clear()
    this.#projection = projection
    const placed = pictures.filter(({ layer }) => layer.bounds !== null && layer.found)
    const wanted = new Map(placed.map((shown) => [shown.layer.id, shown]))
    for (const [id, stacked] of this.#stacked) {
      const shown = wanted.get(id)
      if (shown && shapeOf(shown.layer) === stacked.shape) continue
      this.group.getLayers().remove(stacked.layer)
      stacked.close()
      this.#stacked.delete(id)
    }
    placed.forEach((shown, i) => {
      const stacked = this.#stacked.get(shown.layer.id)
      stacked?.show(shown)
      const { layer } = stacked ?? this.#add(shown, projection)
      layer.setZIndex(lowest + (placed.length - i) / (placed.length + 1))
    })
  }

  /** Where the divider stands: share of the map's width. */
  setDivider(share: number): void {
    this.#divider = share
    this.group.changed()
  }

  clear(): void {
    for (const stacked of this.#stacked.values()) stacked.close()
    this.#stacked.clear()
    this.group.getLayers().clear()
  }

  #add(shown: ShownPicture, projection: Projection): StackedPicture {
    const stacked = new StackedPicture(shown, projection, this.#handlers, () => this.#divider)
    this.#stacked.set(shown.layer.id, stacked)
    this.group.getLayers().push(stacked.layer)
    return stacked
  }
}
