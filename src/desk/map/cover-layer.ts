import type ImageTile from 'ol/ImageTile.js'
import TileLayer from 'ol/layer/Tile.js'
import type Projection from 'ol/proj/Projection.js'
import TileImage from 'ol/source/TileImage.js'
import TileState from 'ol/TileState.js'
import TileGrid from 'ol/tilegrid/TileGrid.js'
import type { CoverView } from '#contract'
import { type Look, passRamp } from '#ui'
import { paintedTile } from './cover-paint.ts'

const tilePixels = 256

/** Levels until the whole frame fits one tile; level 0 has one pixel a cell. */
export function coverLevels(columns: number, rows: number): number {
  return Math.max(0, Math.ceil(Math.log2(Math.max(columns, rows, 1) / tilePixels)))
}

function coverSource(cover: CoverView, projection: Projection, look: () => Look): TileImage {
  const { west, north, cellM, columns, rows } = cover.frame
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
    tileUrlFunction: ([z, x, y]) => `/api/cover/${encodeURIComponent(cover.id)}/${top - z!}/${x}/${y}.png`,
    tileLoadFunction: (tile, address) => {
      paintedTile(address, passRamp[look()]).then(
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

  /** A cover already shown is left as it is. */
  show(cover: CoverView | null, projection: Projection): void {
    const id = cover?.id ?? ''
    if (id === this.#shownId) return
    this.#shownId = id
    this.layer.setSource(cover ? coverSource(cover, projection, this.#look) : null)
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
