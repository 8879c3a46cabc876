import { expect, test } from 'vitest'
import { paintTile } from './cover-tiles.ts'

const frame = { epsg: 27_700, west: 0, north: 0, cellM: 0.1, columns: 3, rows: 2 }
/** Grey and alpha. */
const pixel = (pixels: Uint8Array, x: number, y: number): number[] => [
  ...pixels.subarray(2 * (256 * y + x), 2 * (256 * y + x) + 2),
]

test('level 0 tells one cell a pixel, and leaves gaps and the outside clear', () => {
  const tile = paintTile({ frame, passes: Uint8Array.of(0, 1, 2, 255, 9, 3) }, 1, 0, 0)
  expect(pixel(tile, 0, 0)).toEqual([0, 0])
  expect(pixel(tile, 0, 1)).toEqual([0, 0])
  expect(pixel(tile, 3, 0)).toEqual([0, 0])
  expect(pixel(tile, 1, 0)).toEqual([60, 255])
  expect(pixel(tile, 2, 0)).toEqual([120, 255])
  expect(pixel(tile, 1, 1)).toEqual([240, 255])
  expect(pixel(tile, 2, 1)).toEqual([180, 255])
})

test('a higher level fades by the share covered', () => {
  const tile = paintTile({ frame, passes: Uint8Array.of(1, 1, 1, 1, 0, 1) }, 2, 0, 0)
  expect(pixel(tile, 0, 0)).toEqual([60, Math.round(255 * 0.75)])
  expect(pixel(tile, 1, 0)).toEqual([60, 255])
})
