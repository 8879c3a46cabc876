import { expect, test } from 'vitest'
import { type Bands, pixelValues } from './index.ts'

const image: Bands = {
  columns: 2,
  rows: 2,
  bands: [Uint8Array.of(100, 50, 7, 0), Uint8Array.of(200, 50, 7, 0), Uint8Array.of(50, 50, 7, 0)],
  alpha: Uint8Array.of(255, 0, 255, 255),
  noData: 7,
}

test('brightness is ITU-R BT.601 luma, and nothing where a pixel holds nothing', () => {
  const [first, ...rest] = pixelValues(image, { of: 'brightness' })
  expect(first).toBeCloseTo(0.299 * 100 + 0.587 * 200 + 0.114 * 50, 4)
  expect(rest).toEqual([Number.NaN, Number.NaN, 0])
})

test('an index is nothing where it cannot be worked out', () => {
  const [first, , , black] = pixelValues(image, { of: 'green-red', green: 1, red: 0 })
  expect(first).toBeCloseTo(100 / 300, 6)
  expect(black).toBeNaN()
})

test('a band is its own numbers', () => {
  expect(pixelValues(image, { of: 'band', band: 1 })[0]).toBe(200)
})
