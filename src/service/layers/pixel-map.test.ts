import { expect, test } from 'vitest'
import { groundBounds, type PixelMap, pixelAxes, pixelSize } from './pixel-map.ts'

/** A picture of 200 x 100 pixels whose pixel (column, row) lies at `at`, metres in the survey's grid. */
function mapOf(at: (column: number, row: number) => [number, number]): PixelMap {
  const toGrid = (pixels: Float64Array, out: Float64Array): void => {
    for (let i = 0; i + 1 < pixels.length; i += 2) out.set(at(pixels[i]!, pixels[i + 1]!), i)
  }
  return { columns: 200, rows: 100, toGrid } as PixelMap
}

const northUp = mapOf((column, row) => [558_000 + 0.25 * column, 347_100 - 0.5 * row])
/** Turned by the angle of a 3-4-5 triangle, pixels of 0.5 m. */
const turned = mapOf((column, row) => [
  558_000 + 0.5 * (0.8 * column + 0.6 * row),
  347_000 + 0.5 * (0.6 * column - 0.8 * row),
])

test('bounds hold all corners, also of a turned picture', () => {
  expect(groundBounds(northUp)).toEqual({ minX: 558_000, minY: 347_050, maxX: 558_050, maxY: 347_100 })
  const { minX, minY, maxX, maxY } = groundBounds(turned)!
  expect([minX, minY, maxX, maxY].map((value) => Math.round(value * 1000) / 1000)).toEqual([
    558_000, 346_960, 558_110, 347_060,
  ])
})

test('a pixel’s sides and the side of the square of its area', () => {
  const axes = pixelAxes(northUp)!
  expect(axes.column[0]).toBeCloseTo(0.25, 9)
  expect(axes.up[1]).toBeCloseTo(0.5, 9)
  expect(pixelSize(axes)).toBeCloseTo(Math.sqrt(0.125), 9)
  expect(pixelSize(pixelAxes(turned)!)).toBeCloseTo(0.5, 9)
})

test('what the grid does not reach has neither', () => {
  const nowhere = mapOf(() => [Number.NaN, Number.NaN])
  expect(groundBounds(nowhere)).toBeNull()
  expect(pixelAxes(nowhere)).toBeNull()
})
