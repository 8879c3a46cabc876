import TileLayer from 'ol/layer/Tile.js'
import type Projection from 'ol/proj/Projection.js'
import TileImage from 'ol/source/TileImage.js'
import TileGrid from 'ol/tilegrid/TileGrid.js'
import type { CoverView } from '#contract'

const tilePixels = 256

/** Levels until the whole frame fits one tile; level 0 has one pixel a cell. */
export function coverLevels(columns: number, rows: number): number {
  return Math.max(0, Math.ceil(Math.log2(Math.max(columns, rows, 1) / tilePixels)))
}

/** The cover's tiles. Cells stay square and sharp when one comes near. */
export function coverSource(cover: CoverView, projection: Projection): TileImage {
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
    interpolate: false,
    transition: 0,
    tileUrlFunction: ([z, x, y]) => `/api/cover/${encodeURIComponent(cover.id)}/${top - z!}/${x}/${y}.png`,
  })
}

export function coverLayer(): TileLayer<TileImage> {
  return new TileLayer<TileImage>({ zIndex: 10, preload: 1 })
}
