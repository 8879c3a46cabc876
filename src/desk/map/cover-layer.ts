import type ImageTile from 'ol/ImageTile.js'
import TileLayer from 'ol/layer/Tile.js'
import type Projection from 'ol/proj/Projection.js'
import TileImage from 'ol/source/TileImage.js'
import TileState from 'ol/TileState.js'
import TileGrid from 'ol/tilegrid/TileGrid.js'
import { type CoverView, type GridFrame, greyPerChanceStep, greyPerStep } from '#contract'
import { chanceRamp, type Look, passRamp } from '#ui'
import { paintedTile } from './cover-paint.ts'

const tilePixels = 256

/** Levels until the whole frame fits one tile; level 0 has one pixel a cell. */
export function coverLevels(columns: number, rows: number): number {
  return Math.max(0, Math.ceil(Math.log2(Math.max(columns, rows, 1) / tilePixels)))
}

/** Ground as tiles of steps: a cover in passes or in chances. */
export interface SteppedGround {
  readonly id: string
  readonly frame: GridFrame
  /** Its tiles lie below this address. */
  readonly address: string
  readonly greyPerStep: number
  readonly ramp: Readonly<Record<Look, readonly (readonly number[])[]>>
}

export function passesGround({ id, frame }: CoverView): SteppedGround {
  return { id, frame, address: `/api/cover/${encodeURIComponent(id)}`, greyPerStep, ramp: passRamp }
}

export function chanceGround(id: string, frame: GridFrame): SteppedGround {
  const address = `/api/visits/chances/${encodeURIComponent(id)}`
  return { id, frame, address, greyPerStep: greyPerChanceStep, ramp: chanceRamp }
}

function groundSource(ground: SteppedGround, projection: Projection, look: () => Look): TileImage {
  const { west, north, cellM, columns, rows } = ground.frame
  const top = coverLevels(columns, rows)
  const tileGrid = new TileGrid({
    origin: [west, north],
    resolutions: Array.from({ length: top + 1 }, (_, z) => cellM * 2 ** (top - z)),
    tileSize: tilePixels,
    extent: [west, north - rows * cellM, west + columns * cellM, north],
  })
  return new TileImage({
    projection,
    tileGrid,
    transition: 0,
    tileUrlFunction: ([z, x, y]) => `${ground.address}/${top - z!}/${x}/${y}.png`,
    tileLoadFunction: (tile, address) => {
      paintedTile(address, ground.ramp[look()], ground.greyPerStep).then(
        (canvas) => (tile as ImageTile).setImage(canvas),
        () => tile.setState(TileState.ERROR),
      )
    },
  })
}

/** The cover: tiles from the server, in the colours of the look now shown. */
export class CoverLayer {
  readonly layer = new TileLayer<TileImage>({ zIndex: 10 })
  readonly #look: () => Look
  #shownId = ''

  constructor(look: () => Look) {
    this.#look = look
  }

  /** Ground already shown is left as it is. */
  show(ground: SteppedGround | null, projection: Projection): void {
    const id = ground?.id ?? ''
    if (id === this.#shownId) return
    this.#shownId = id
    this.layer.setSource(ground ? groundSource(ground, projection, this.#look) : null)
  }

  /** Nothing is shown, and what comes next is laid anew. */
  clear(): void {
    this.#shownId = ''
    this.layer.setSource(null)
  }

  /** Fetches the tiles again, for another look. */
  repaint(): void {
    this.layer.getSource()?.refresh()
  }
}
