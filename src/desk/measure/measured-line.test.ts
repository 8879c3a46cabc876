import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { LineView } from '#contract'
import type { Position } from '../api/desk-api.ts'
import {
  figureArea,
  legsOf,
  type Measure,
  mayClose,
  sumOfLegs,
  withoutLast,
  withPoint,
} from './measured-line.ts'

const open = (...points: Position[]): Measure => ({ points, closed: false })
const square = open([0, 0], [100, 0], [100, 50], [0, 50])
const leg = (groundM: number, gridM: number): LineView => ({
  groundM,
  gridM,
  gridBearing: 0,
  trueBearing: 1,
  convergence: 1,
  magnetic: null,
})

test('points join to legs, and a closed figure has one more', () => {
  expect(legsOf(open())).toEqual([])
  expect(legsOf(open([1, 2]))).toEqual([])
  expect(legsOf(square)).toHaveLength(3)
  expect(legsOf({ ...square, closed: true }).at(-1)).toEqual([
    [0, 50],
    [0, 0],
  ])
})

test('a double click sets one point, and a click after a closed figure begins anew', () => {
  expect(withPoint(open([1, 2]), [1, 2.001]).points).toHaveLength(1)
  expect(withPoint(open([1, 2]), [1, 3]).points).toHaveLength(2)
  expect(withPoint({ ...square, closed: true }, [7, 8])).toEqual(open([7, 8]))
})

test('taking back opens a figure before it takes a point', () => {
  expect(withoutLast({ ...square, closed: true })).toEqual(square)
  expect(withoutLast(square).points).toHaveLength(3)
  expect(withoutLast(open())).toEqual(open())
})

test('three points are needed for a figure', () => {
  expect([open(), open([0, 0], [1, 1]), square, { ...square, closed: true }].map(mayClose)).toEqual([
    false,
    false,
    true,
    false,
  ])
})

test('the whole is the sum of the legs, and not known while one is not', () => {
  expect(sumOfLegs([leg(10.5, 10), leg(20.5, 20)])).toEqual({ groundM: 31, gridM: 30 })
  expect(sumOfLegs([leg(10, 10), null])).toEqual({ groundM: null, gridM: null })
})

test('an area is that of the plane, wherever the figure lies and whichever way it turns', () => {
  expect(figureArea(square, 27_700)).toEqual({ areaM2: 5000 })
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 700_000 }),
      fc.integer({ min: 0, max: 1_200_000 }),
      (east, north) => {
        const moved = square.points.map(([e, n]): Position => [e + east, n + north])
        expect(figureArea(open(...moved.reverse()), 27_700)).toEqual({ areaM2: 5000 })
      },
    ),
  )
})

test('a figure that crosses itself, or encloses nothing, has no area and says why', () => {
  const eight = open([0, 0], [100, 50], [100, 0], [0, 50])
  expect(figureArea(eight, 27_700)).toEqual({ flaw: expect.stringContaining('crosses itself') })
  expect(figureArea(open([0, 0], [50, 0], [100, 0]), 27_700)).toEqual({
    flaw: expect.stringContaining('not told'),
  })
})
