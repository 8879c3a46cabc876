import { expect, test } from 'vitest'
import { passColours } from '#contract'
import { paintTile } from './cover-tiles.ts'

const frame = { epsg: 27_700, west: 0, north: 0, cellM: 0.1, columns: 3, rows: 2 }
const pixel = (pixels: Uint8Array, x: number, y: number): number[] => [
  ...pixels.subarray(4 * (256 * y + x), 4 * (256 * y + x) + 4),
]

test('level 0 paints one pixel a cell, and leaves gaps and the outside clear', () => {
  const tile = paintTile({ frame, passes: Uint8Array.of(0, 1, 2, 255, 9, 3) }, 1, 0, 0)
  expect(pixel(tile, 0, 0)[3]).toBe(0)
  expect(pixel(tile, 0, 1)[3]).toBe(0)
  expect(pixel(tile, 3, 0)[3]).toBe(0)
  expect(pixel(tile, 1, 0).slice(0, 3)).toEqual([...passColours[0].rgb])
  expect(pixel(tile, 2, 0).slice(0, 3)).toEqual([...passColours[1].rgb])
  expect(pixel(tile, 1, 1).slice(0, 3)).toEqual([...passColours[3].rgb])
})

test('a higher level fades by the share covered', () => {
  const tile = paintTile({ frame, passes: Uint8Array.of(1, 1, 1, 1, 0, 1) }, 2, 0, 0)
  expect(pixel(tile, 0, 0)[3]).toBe(Math.round(205 * 0.75))
  expect(pixel(tile, 1, 0)[3]).toBe(205)
})
