import type { LayerView } from '#contract'
import type { LatticeFrame } from '#core/raster'
import {
  type BlendScale,
  blendScale,
  blendToGrey,
  type GreyView,
  greyRows,
  isGreyView,
  type MeasuredView,
  measuredRows,
  percentileStretch,
  type Stretch,
  stretchToGrey,
} from '#core/relief'
import type { Window } from '#work'
import { type BlockSource, joined } from './block-source.ts'
import type { PairMap } from './control-mesh.ts'
import { sampleBlocks } from './sample-blocks.ts'
import { fromRaster, type RasterTurn } from './terrain-light.ts'
import { type FilledView, farViews, filledView, nearView } from './terrain-views.ts'
import type { ViewSource } from './view-source.ts'
import type { PaintedPiece } from './warp-tile.ts'

/** Gives a picture of the whole terrain, worked out or found; waits until it is there. */
export type FarPicture = (view: MeasuredView) => Promise<BlockSource>

/** A view as read in a window: bytes already, or measures to be stretched to grey. */
type Look = (level: number, window: Window) => Promise<Uint8Array | Float32Array>

/** What of one view is kept between tiles. */
interface Looked {
  readonly look: Look
  /** Null where the look gives bytes. */
  readonly stretch: Stretch | null
}

const keptViews = 12

/** A terrain model seen by the views of core/relief. 1 to 255 is grey, 0 nothing. */
export class TerrainSource implements ViewSource {
  readonly columns: number
  readonly rows: number
  readonly levels: BlockSource['levels']
  readonly whole = true
  readonly #heights: BlockSource
  readonly #turn: RasterTurn
  readonly #far: FarPicture
  readonly #looks = new Map<string, Promise<Looked>>()

  constructor(heights: BlockSource, turn: RasterTurn, far: FarPicture) {
    this.columns = heights.columns
    this.rows = heights.rows
    this.levels = heights.levels
    this.#heights = heights
    this.#turn = turn
    this.#far = far
  }

  async prepare(view: LayerView): Promise<void> {
    await this.#looked(filledView(view, this.#turn))
  }

  async paint(level: number, window: Window, view: LayerView): Promise<PaintedPiece> {
    const { look, stretch } = await this.#looked(filledView(view, this.#turn))
    const seen = await look(level, window)
    const grey = seen instanceof Uint8Array ? seen : new Uint8Array(seen.length)
    if (stretch && seen instanceof Float32Array) stretchToGrey(seen, stretch, grey)
    const pixels = new Uint8Array(2 * grey.length)
    for (let i = 0; i < grey.length; i++) {
      pixels[2 * i] = grey[i]!
      pixels[2 * i + 1] = grey[i]! > 0 ? 255 : 0
    }
    return { columns: window.width, rows: window.height, channels: 2, pixels }
  }

  /** Heights at the middles of a frame's cells, north up; NaN where there are none. */
  heightsIn(toPixels: PairMap, frame: LatticeFrame): Float32Array {
    return sampleBlocks(this.#heights, toPixels, frame)
  }

  #looked(filled: FilledView): Promise<Looked> {
    const key = JSON.stringify(filled)
    const known = this.#looks.get(key)
    if (known) return known
    const made = this.#lookNow(filled)
    this.#looks.set(key, made)
    made.catch(() => this.#looks.delete(key))
    for (const old of [...this.#looks.keys()].slice(0, -keptViews)) this.#looks.delete(old)
    return made
  }

  async #lookNow(filled: FilledView): Promise<Looked> {
    const near = nearView(filled, this.#turn)
    if (near && isGreyView(near)) {
      return { look: async (level, window) => this.#shaded(near, level, window), stretch: null }
    }
    if (near) {
      const look: Look = async (level, window) => this.#measured(near, level, window)
      return { look, stretch: await this.#stretch(filled, look) }
    }
    const pictures = await Promise.all(farViews(filled).map((view) => this.#far(view)))
    if (filled.view === 'blend') return blended(pictures[0]!, pictures[1]!)
    const look: Look = async (level, window) => pictures[0]!.read(level, window)
    return { look, stretch: await this.#stretch(filled, look) }
  }

  /** Black and white by percentiles of the finest level; level ground in the middle for local relief, the whole circle for aspect. */
  async #stretch({ view, cutPercent }: FilledView, look: Look): Promise<Stretch | null> {
    if (view === 'aspect') return { low: 0, high: 360 }
    const parts = await Promise.all(this.#heights.samples().map((window) => look(0, window)))
    const values = joined(parts as Float32Array[])
    const stretch = percentileStretch(values, cutPercent, 100 - cutPercent) ?? { low: 0, high: 0 }
    if (view !== 'local-relief') return stretch
    const most = Math.max(Math.abs(stretch.low), Math.abs(stretch.high))
    return { low: -most, high: most }
  }

  /** The terrain in a window with one cell more on each side. */
  #around(level: number, { left, top, width, height }: Window) {
    const { scaleX, scaleY } = this.levels[level]!
    const [columns, rows] = [width + 2, height + 2]
    const values = this.#heights.read(level, { left: left - 1, top: top - 1, width: columns, height: rows })
    return { columns, rows, cellX: this.#turn.cellX * scaleX, cellY: this.#turn.cellY * scaleY, values }
  }

  #shaded(view: GreyView, level: number, window: Window): Uint8Array {
    const terrain = this.#around(level, window)
    const out = new Uint8Array(terrain.values.length)
    greyRows(terrain, view, out, 1, terrain.rows - 1)
    return inside(out, new Uint8Array(window.width * window.height), window)
  }

  #measured(view: MeasuredView, level: number, window: Window): Float32Array {
    const terrain = this.#around(level, window)
    const out = new Float32Array(terrain.values.length)
    measuredRows(terrain, view, out, 1, terrain.rows - 1)
    const values = inside(out, new Float32Array(window.width * window.height), window)
    return view.view === 'aspect' ? values.map((value) => fromRaster(value, this.#turn)) : values
  }
}

/** The window without the cell on each side. */
function inside<Values extends Uint8Array | Float32Array>(
  values: Values,
  out: Values,
  { width, height }: Window,
): Values {
  for (let row = 0; row < height; row++) {
    const from = (row + 1) * (width + 2) + 1
    out.set(values.subarray(from, from + width), row * width)
  }
  return out
}

function blended(sky: BlockSource, relief: BlockSource): Looked {
  const sampled = (source: BlockSource): Float32Array =>
    joined(source.samples().map((window) => source.read(0, window)))
  const scale: BlendScale | null = blendScale(sampled(sky), sampled(relief))
  const look: Look = async (level, window) => {
    const out = new Uint8Array(window.width * window.height)
    if (scale) blendToGrey(sky.read(level, window), relief.read(level, window), scale, out)
    return out
  }
  return { look, stretch: null }
}
