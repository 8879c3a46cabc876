import fc from 'fast-check'
import { expect, test } from 'vitest'
import { linePieces, trackOpacity, trackTolerance } from './track-tolerance.ts'

test('the tolerance stays under a pixel wherever it can', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.09, max: 500, noNaN: true }), (metresPerPixel) => {
      expect(trackTolerance(metresPerPixel)).toBeLessThanOrEqual(metresPerPixel)
    }),
  )
  expect(trackTolerance(0.01)).toBe(0.05)
})

test('tracks are full from near and faint from far, and never appear again between', () => {
  expect(trackOpacity(0.05)).toBe(1)
  expect(trackOpacity(5)).toBeCloseTo(0.3, 9)
  expect(trackOpacity(0.3)).toBeLessThan(trackOpacity(0.2))
})

test('pieces join end to start and break at NaN', () => {
  const line = Float64Array.of(0, 0, 1, 0, 2, 0, 3, 0, Number.NaN, Number.NaN, 9, 9, 10, 9)
  expect(linePieces(line, 3)).toEqual([
    [0, 0, 1, 0, 2, 0],
    [2, 0, 3, 0],
    [9, 9, 10, 9],
  ])
})

test('a lone fix between breaks draws nothing', () => {
  expect(linePieces(Float64Array.of(Number.NaN, Number.NaN, 1, 1, Number.NaN, Number.NaN))).toEqual([])
})
