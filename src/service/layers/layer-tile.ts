import sharp from 'sharp'
import type { LayerView } from '#contract'
import { controlMesh, meshPixels, type PairMap, type TileSquare } from './control-mesh.ts'
import { levelFor, type ViewSource } from './view-source.ts'
import { type PaintedPiece, warpTile } from './warp-tile.ts'

export const tileSide = 256
/** How far a pixel of a tile may lie from its exact place, pixels of the source or of the level shown, whichever are larger. */
const tolerance = 0.1
/** Longest side of the piece that one tile is made of; where a tile shows more (near a horizon), a coarser level is taken. */
const longestPiece = 1200

/** Where a tile lies: its north-west corner and a pixel's side, metres in the survey's grid. */
export interface TilePlaceOnGround {
  readonly west: number
  readonly north: number
  readonly pixelM: number
}

/**
 * Paints one tile: a mesh of exact places, the piece of the source that it shows at the level that suits, the view of that piece, laid onto the
 * tile bilinearly. Grey or colour with alpha; null where the source does not reach the tile.
 *
 * Cost    about 10 ms: 2 for places, 2 for reading, 1 to 10 for the view, 3 for laying.
 */
export async function layerTile(
  source: ViewSource,
  toPixels: PairMap,
  { west, north, pixelM }: TilePlaceOnGround,
  view: LayerView,
): Promise<PaintedPiece | null> {
  const square = { west, north, sideM: tileSide * pixelM, side: tileSide }
  const mesh = controlMesh(
    toPixels,
    square,
    tolerance * Math.max(finest(source), middleStep(toPixels, square)),
  )
  const places = meshPixels(mesh, tileSide)
  const box = boxOf(places, source)
  if (box === null) return null
  let level = levelFor(source, stepOf(places, source))
  let window = windowAt(source, level, box)
  while (Math.max(window.width, window.height) > longestPiece && level < source.levels.length - 1) {
    level += 1
    window = windowAt(source, level, box)
  }
  const piece = await source.paint(level, window, view)
  const { scaleX, scaleY } = source.levels[level]!
  const pixels = warpTile(piece, { left: window.left, top: window.top, scaleX, scaleY }, places, source)
  return { columns: tileSide, rows: tileSide, channels: piece.channels, pixels }
}

/** Pixels of the whole to one of the finest level that there is. */
const finest = ({ levels }: ViewSource): number => Math.max(1, Math.min(levels[0]!.scaleX, levels[0]!.scaleY))

/** Pixels of the source to one of the tile about the tile's middle; 0 where that has no place. */
function middleStep(toPixels: PairMap, { west, north, sideM, side }: TileSquare): number {
  const [x, y, step] = [west + sideM / 2, north - sideM / 2, sideM / side]
  const at = Float64Array.of(x, y, x + step, y, x, y - step)
  toPixels(at, at)
  const area = (at[2]! - at[0]!) * (at[5]! - at[1]!) - (at[3]! - at[1]!) * (at[4]! - at[0]!)
  return Number.isNaN(area) ? 0 : Math.sqrt(Math.abs(area))
}

interface Box {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

/** What part of the source the tile shows; null where none. */
function boxOf(places: Float64Array, { columns, rows }: ViewSource): Box | null {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i < places.length; i += 2) {
    const [x, y] = [places[i]!, places[i + 1]!]
    if (!(x >= 0 && y >= 0 && x <= columns && y <= rows)) continue
    minX = Math.min(minX, x)
    maxX = Math.max(maxX, x)
    minY = Math.min(minY, y)
    maxY = Math.max(maxY, y)
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : null
}

/** Pixels of the source to one of the tile: the median over places inside, so that an edge at the horizon does not decide. */
function stepOf(places: Float64Array, { columns, rows }: ViewSource): number {
  const steps: number[] = []
  const row = 2 * tileSide
  for (let y = 0; y + 1 < tileSide; y += 15) {
    for (let x = 0; x + 1 < tileSide; x += 15) {
      const p = y * row + 2 * x
      const [c, r] = [places[p]!, places[p + 1]!]
      if (!(c >= 0 && r >= 0 && c <= columns && r <= rows)) continue
      const [xc, xr] = [places[p + 2]! - c, places[p + 3]! - r]
      const [yc, yr] = [places[p + row]! - c, places[p + row + 1]! - r]
      const area = Math.abs(xc * yr - xr * yc)
      if (area > 0) steps.push(Math.sqrt(area))
    }
  }
  if (steps.length === 0) return 1
  return steps.sort((a, b) => a - b)[steps.length >> 1]!
}

/** The window of a level that a box falls into, with a pixel to spare for bilinear laying. */
function windowAt({ levels }: ViewSource, level: number, { minX, minY, maxX, maxY }: Box) {
  const { columns, rows, scaleX, scaleY } = levels[level]!
  const from = (value: number, scale: number, length: number): number =>
    Math.min(length - 1, Math.max(0, Math.floor(value / scale - 0.5)))
  const to = (value: number, scale: number, length: number): number =>
    Math.min(length, Math.max(1, Math.ceil(value / scale + 0.5)))
  const [left, top] = [from(minX, scaleX, columns), from(minY, scaleY, rows)]
  const width = Math.max(1, to(maxX, scaleX, columns) - left)
  const height = Math.max(1, to(maxY, scaleY, rows) - top)
  return { left, top, width, height }
}

/** As PNG: packed lightly, for it goes no further than this machine. */
export async function pngOf({ columns, rows, channels, pixels }: PaintedPiece): Promise<Uint8Array> {
  return sharp(pixels, { raw: { width: columns, height: rows, channels } })
    .png({ compressionLevel: 2, adaptiveFiltering: false })
    .toBuffer()
}

const clear = {
  columns: tileSide,
  rows: tileSide,
  channels: 2,
  pixels: new Uint8Array(2 * tileSide ** 2),
} as const
let clearPng: Promise<Uint8Array> | null = null

/** A tile with nothing on it. */
export function clearTile(): Promise<Uint8Array> {
  clearPng ??= pngOf(clear)
  return clearPng
}
