import { expect, test } from 'vitest'
import { warpTile } from './warp-tile.ts'

const piece = {
  columns: 2,
  rows: 2,
  channels: 2 as const,
  pixels: Uint8Array.of(10, 255, 30, 255, 50, 255, 200, 0),
}
const whole = { left: 0, top: 0, scaleX: 1, scaleY: 1 }

test('a pixel centre gives the pixel, between centres the mean; what is clear counts for nothing', () => {
  const places = Float64Array.of(0.5, 0.5, 1, 0.5, 0.5, 1, 1.5, 1.5, 1.5, 1)
  const out = warpTile(piece, whole, places, { columns: 2, rows: 2 })
  expect([...out]).toEqual([10, 255, 20, 255, 30, 255, 0, 0, 30, 128])
})

test('outside the picture, and where there is no place, all is clear', () => {
  const places = Float64Array.of(-0.1, 0.5, 2.1, 0.5, Number.NaN, 1, 0.5, 2.5)
  expect(warpTile(piece, whole, places, { columns: 2, rows: 2 }).some((value) => value !== 0)).toBe(false)
})

test('a piece of a reduced level lies where its pixels came from', () => {
  // The piece is columns 4 and 5, rows 2 and 3 of a level whose pixels are 8 wide and high.
  const place = { left: 4, top: 2, scaleX: 8, scaleY: 8 }
  const out = warpTile(piece, place, Float64Array.of(36, 20, 44, 20, 40, 20), { columns: 48, rows: 32 })
  expect([...out]).toEqual([10, 255, 30, 255, 20, 255])
})
