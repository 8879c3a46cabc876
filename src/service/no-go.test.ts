import { expect, test } from 'vitest'
import { polygonArea } from '#core/geometry'
import { withoutParts } from './no-go.ts'

const box = (west: number, south: number, side: number) => ({
  rings: [
    Float64Array.of(
      west,
      south,
      west + side,
      south,
      west + side,
      south + side,
      west,
      south + side,
      west,
      south,
    ),
  ],
})
const areaOf = (polygons: readonly { rings: readonly Float64Array[] }[]): number =>
  polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)

test('parts wholly inside are taken out of the ground', () => {
  const { polygons, across } = withoutParts(
    [box(0, 0, 100), box(200, 0, 50)],
    [box(10, 10, 20), box(40, 40, 5)],
  )
  expect(areaOf(polygons)).toBe(100 * 100 + 50 * 50 - 20 * 20 - 5 * 5)
  expect(across).toEqual([])
})

test('parts over an edge, over each other or around the ground are told of and change nothing', () => {
  expect(withoutParts([box(0, 0, 100)], [box(90, 90, 20)]).across).toEqual([0])
  expect(withoutParts([box(0, 0, 100)], [box(10, 10, 20), box(20, 20, 20)]).across).toEqual([1])
  expect(withoutParts([box(0, 0, 100)], [box(10, 10, 20), box(5, 5, 40)]).across).toEqual([1])
  const around = withoutParts([box(0, 0, 100)], [box(-10, -10, 200)])
  expect(around.across).toEqual([0])
  expect(areaOf(around.polygons)).toBe(10_000)
})

test('parts elsewhere change nothing', () => {
  const ground = [box(0, 0, 100)]
  expect(withoutParts(ground, [box(500, 0, 10)])).toEqual({ polygons: ground, across: [] })
})
