import { expect, test } from 'vitest'
import { polygonArea } from '#core/geometry'
import { areaOf, box } from '../../../test/cover/planar-shapes.ts'
import { groundAlong } from './index.ts'

const area = areaOf(box(0, 0, 100, 100))
const lane = (x: number, from = 0, to = 100) => Float64Array.of(x, from, x, to)

test('lanes side by side are one piece of ground, a lane apart is another', () => {
  const found = groundAlong([lane(20), lane(21.5), lane(23.01), lane(60, 40, 60)], area, 1.5)
  expect(found).toHaveLength(2)
  const [three, one] = found.map(polygonArea)
  expect(three).toBeGreaterThan(3 * 1.5 * 100)
  expect(three).toBeLessThan(1.05 * 3 * 1.5 * 100)
  // A half disc at each end, and a strip of eight whole cells of 0.2 m.
  expect(one).toBeLessThan(1.6 * 20 + (Math.PI * 1.6 ** 2) / 4 + 0.5)
})

test('no line, and a line off the area, is no ground', () => {
  expect(groundAlong([], area, 1.5)).toEqual([])
  expect(groundAlong([lane(-40)], area, 1.5)).toEqual([])
})
