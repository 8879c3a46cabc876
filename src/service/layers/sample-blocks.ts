import type { LatticeFrame } from '#core/raster'
import type { BlockSource } from './block-source.ts'
import type { PairMap } from './control-mesh.ts'
import { levelFor } from './view-source.ts'

/**
 * Values of a raster at the middles of a frame's cells, north up: bilinear between those of the level whose cells are about as large, NaN where it
 * has none. Cost: a place for each cell (some microseconds), and the blocks that the frame meets.
 */
export function sampleBlocks(source: BlockSource, toPixels: PairMap, frame: LatticeFrame): Float32Array {
  const places = placesOf(toPixels, frame)
  const level = levelFor(source, stepOf(places, frame.columns))
  const { columns, rows, scaleX, scaleY } = source.levels[level]!
  const out = new Float32Array(places.length / 2).fill(Number.NaN)
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i < places.length; i += 2) {
    // From corners to middles of the level's cells.
    const [x, y] = [places[i]! / scaleX - 0.5, places[i + 1]! / scaleY - 0.5]
    places[i] = x
    places[i + 1] = y
    if (!(x >= -0.5 && y >= -0.5 && x <= columns && y <= rows)) continue
    left = Math.min(left, Math.floor(x))
    right = Math.max(right, Math.floor(x) + 2)
    top = Math.min(top, Math.floor(y))
    bottom = Math.max(bottom, Math.floor(y) + 2)
  }
  if (!(left < right)) return out
  const width = right - left
  const values = source.read(level, { left, top, width, height: bottom - top })
  for (let i = 0; i < places.length; i += 2) {
    const [x, y] = [places[i]! - left, places[i + 1]! - top]
    if (!(x >= 0 && y >= 0 && x < width - 1 && y < bottom - top - 1)) continue
    const [c, r] = [Math.floor(x), Math.floor(y)]
    const [fx, fy] = [x - c, y - r]
    const at = r * width + c
    out[i / 2] =
      (values[at]! * (1 - fx) + values[at + 1]! * fx) * (1 - fy) +
      (values[at + width]! * (1 - fx) + values[at + width + 1]! * fx) * fy
  }
  return out
}

/** Column and row in the raster of the middle of each cell, interleaved. */
function placesOf(toPixels: PairMap, { west, north, cellM, columns, rows }: LatticeFrame): Float64Array {
  const xy = new Float64Array(2 * columns * rows)
  for (let row = 0, i = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      xy[i++] = west + (column + 0.5) * cellM
      xy[i++] = north - (row + 0.5) * cellM
    }
  toPixels(xy, xy)
  return xy
}

/** Pixels of the raster to a cell: the median, so that places without one do not decide. */
function stepOf(places: Float64Array, columns: number): number {
  const steps: number[] = []
  for (let i = 0; i + 2 < places.length; i += 14) {
    if ((i / 2 + 1) % columns === 0) continue
    const step = Math.hypot(places[i + 2]! - places[i]!, places[i + 3]! - places[i + 1]!)
    if (step > 0) steps.push(step)
  }
  return steps.sort((a, b) => a - b)[steps.length >> 1] ?? 1
}
