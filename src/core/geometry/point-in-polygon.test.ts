import { expect, test } from 'vitest'
import { pointInPolygon } from './point-in-polygon.ts'

const ring = (...xy: number[]): Float64Array => Float64Array.from(xy)
const withHole = { rings: [ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0), ring(4, 4, 6, 4, 6, 6, 4, 6, 4, 4)] }

test('inside, in the hole, outside', () => {
  expect(pointInPolygon(1, 1, withHole)).toBe(true)
  expect(pointInPolygon(5, 5, withHole)).toBe(false)
  expect(pointInPolygon(11, 5, withHole)).toBe(false)
  expect(pointInPolygon(Number.NaN, 5, withHole)).toBe(false)
})

test('a point on the edge of two neighbours belongs to one of them', () => {
  const west = { rings: [ring(0, 0, 5, 0, 5, 10, 0, 10, 0, 0)] }
  const east = { rings: [ring(5, 0, 10, 0, 10, 10, 5, 10, 5, 0)] }
  expect([west, east].filter((polygon) => pointInPolygon(5, 5, polygon))).toHaveLength(1)
})

test('level with a corner it is still counted once', () => {
  const kite = { rings: [ring(0, 5, 5, 0, 10, 5, 5, 10, 0, 5)] }
  expect(pointInPolygon(5, 5, kite)).toBe(true)
  expect(pointInPolygon(-1, 5, kite)).toBe(false)
})
