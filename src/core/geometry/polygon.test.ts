import { expect, test } from 'vitest'
import { polygonArea, ringArea } from './polygon.ts'

const square = (x: number, y: number, side: number): Float64Array =>
  Float64Array.of(x, y, x + side, y, x + side, y + side, x, y + side, x, y)

test('a counter-clockwise ring has positive area', () => {
  expect(ringArea(square(0, 0, 10))).toBe(100)
  expect(ringArea(Float64Array.of(0, 0, 0, 10, 10, 10, 10, 0, 0, 0))).toBe(-100)
})

test('holes are taken from the outer ring, whatever their winding', () => {
  expect(polygonArea({ rings: [square(0, 0, 10), square(2, 2, 3)] })).toBe(91)
})

test('large coordinates cost no precision', () => {
  expect(ringArea(square(651_409.5, 1_213_177.25, 0.1))).toBeCloseTo(0.01, 9)
})
