import type { Layer, LayerView } from '#contract'
import { plainView } from './view-words.ts'

export const tilePixels = 256

/** The address of a tile: level 0 is the finest. */
export type TileAddress = (level: number, column: number, row: number) => string

/** What stands behind the `?` of a layer's tiles: the view, and the stamp that makes them keepable for ever. */
export function tileQuery(layer: Layer, view: LayerView): string {
  const query = new URLSearchParams()
  for (const [name, value] of Object.entries(plainView(view))) query.set(name, String(value))
  if (layer.stamp !== undefined) query.set('v', layer.stamp)
  return query.toString()
}

/** `tiles` lie in the survey's grid, `picture` in the picture's own pixels. */
export function tileAddress(layer: Layer, view: LayerView, part: 'tiles' | 'picture' = 'tiles'): TileAddress {
  const query = tileQuery(layer, view)
  return (level, column, row) => `/api/layers/${layer.id}/${part}/${level}/${column}/${row}.png?${query}`
}

/** Levels of a picture in its own pixels, until one tile holds it. */
export function pictureLevels(columns: number, rows: number): number {
  return Math.max(1, Math.ceil(Math.log2(Math.max(columns, rows) / tilePixels)) + 1)
}

/** The one tile that shows the whole of a layer, and what share of it the layer fills. */
export interface WholeTile {
  readonly address: string
  readonly width: number
  readonly height: number
}

export function wholeTile(layer: Layer, view: LayerView): WholeTile {
  const { bounds, columns, rows } = layer
  const part = bounds ? 'tiles' : 'picture'
  const level = (bounds ? layer.levels : pictureLevels(columns, rows)) - 1
  const metres = bounds ? layer.tileM : 1
  const [west, south, east, north] = bounds ?? [0, 0, columns, rows]
  const side = tilePixels * metres * 2 ** level
  return {
    address: tileAddress(layer, view, part)(level, 0, 0),
    width: Math.min(1, (east - west) / side),
    height: Math.min(1, (north - south) / side),
  }
}
