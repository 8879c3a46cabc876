import type { imageViews, LayerView } from '#contract'
import {
  applyView,
  type BandColours,
  imageViewsFor,
  type PreparedView,
  prepareView,
  usualColours,
} from '#core/imagery'
import type { StoredLayer } from '#store'
import type { PictureReader, Window } from '#work'
import { overviewLevel, type ViewSource } from './view-source.ts'
import type { PaintedPiece } from './warp-tile.ts'

/** Views whose statistics are kept for one picture: as many as a person turns between. */
const keptViews = 12

/**
 * Which band is which colour. A picture whose near infrared is its first band of three is a colour-infrared one: red and green follow,
 * and there is no blue (common practice of aerial survey).
 */
export function bandColours({
  bands,
  nearInfraredBand,
}: Pick<StoredLayer, 'bands' | 'nearInfraredBand'>): BandColours {
  if (nearInfraredBand === 1 && bands === 3) return { red: 2, green: 3, blue: null, nearInfrared: 1 }
  return { ...usualColours(bands), nearInfrared: nearInfraredBand }
}

/** An image seen by the views of core/imagery, each prepared once from one level of it. */
export class PictureSource implements ViewSource {
  readonly columns: number
  readonly rows: number
  readonly levels: PictureReader['levels']
  readonly whole: boolean
  readonly #reader: PictureReader
  readonly #pixelM: number
  readonly #colours: BandColours
  readonly #views: readonly string[]
  readonly #kept = new Map<string, Promise<PreparedView>>()

  constructor(reader: PictureReader, whole: boolean, layer: StoredLayer, pixelM: number) {
    this.columns = reader.columns
    this.rows = reader.rows
    this.levels = reader.levels
    this.whole = whole
    this.#reader = reader
    this.#pixelM = pixelM
    this.#colours = bandColours(layer)
    this.#views = imageViewsFor(layer.bands, this.#colours)
  }

  async prepare(view: LayerView): Promise<void> {
    await this.#prepared(view)
  }

  async paint(level: number, window: Window, view: LayerView): Promise<PaintedPiece> {
    const prepared = await this.#prepared(view)
    const from = this.levels[overviewLevel(this)]!
    const { scaleX, scaleY } = this.levels[level]!
    return applyView(prepared, await this.#reader.read(level, window), {
      column: window.left,
      row: window.top,
      stepX: scaleX / from.scaleX,
      stepY: scaleY / from.scaleY,
    })
  }

  async #prepared(view: LayerView): Promise<PreparedView> {
    if (!this.#views.includes(view.view)) throw new RangeError(`this picture has no view ${view.view}`)
    const { number, radiusM, cutPercent } = view
    const key = JSON.stringify([view.view, number, radiusM, cutPercent])
    const known = this.#kept.get(key)
    if (known) return known
    const made = this.#prepareNow(view)
    this.#kept.set(key, made)
    made.catch(() => this.#kept.delete(key))
    for (const old of [...this.#kept.keys()].slice(0, -keptViews)) this.#kept.delete(old)
    return made
  }

  async #prepareNow(view: LayerView): Promise<PreparedView> {
    const at = overviewLevel(this)
    const { columns: width, rows: height, scaleX, scaleY } = this.levels[at]!
    const overview = await this.#reader.read(at, { left: 0, top: 0, width, height })
    const pixelM = this.#pixelM * Math.sqrt(scaleX * scaleY)
    const { number, radiusM, cutPercent } = view
    const asked = { view: view.view as (typeof imageViews)[number], number, radiusM, cutPercent }
    return prepareView(overview, asked, { pixelM, colours: this.#colours })
  }
}
