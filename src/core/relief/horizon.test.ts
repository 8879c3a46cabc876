import { describe, expect, test } from 'vitest'
import { terrainOf } from '../../../test/relief/relief-fixture.ts'
import { castRays } from './horizon.ts'
import { openness, skyView } from './index.ts'

const options = { radiusM: 60, directions: 16, zFactor: 1, edges: 'fill' } as const

test('level ground: all of the sky, 90 degrees up and down, to the very edge', () => {
  const flat = terrainOf(9, 7, [1, 1], () => 12)
  expect(new Set(skyView(flat, { ...options, radiusM: 4 }))).toEqual(new Set([1]))
  for (const towards of ['up', 'down'] as const)
    expect(new Set(openness(flat, { ...options, radiusM: 4, towards }))).toEqual(new Set([90]))
})

test('at the foot of an endless wall half of the sky is hidden', () => {
  // A step of a million metres along a column of cells: what lies beyond it is out of reach from every direction with an eastern part.
  const wall = terrainOf(41, 41, [1, 1], (east) => (east > 20 ? 1e6 : 0))
  const seen = skyView(wall, { ...options, radiusM: 15, directions: 360 })[20 * 41 + 20]!
  // The two directions along the wall see past it: 179 of 360 are hidden, and directions within 4 degrees of the wall meet it beyond 15 m.
  expect(seen).toBeGreaterThan(0.5)
  expect(seen).toBeLessThan(0.53)
})

/**
 * A round pit, heights `depth` from `radius` on. The nearest cell to its edge on each ray is farther than the edge by up to one cell, so the
 * answer lies between the closed forms of `radius` and of `radius` + 1.5 cells (closed form of the definition: 1 - h / sqrt(h^2 + r^2)).
 */
describe.each([
  [30, 10],
  [40, 40],
  [25, 80],
])('a round pit of %d m radius and %d m depth', (radius, depth) => {
  const size = 2 * radius + 11
  const middle = radius + 5
  const pit = terrainOf(size, size, [1, 1], (east, north) =>
    Math.hypot(east - middle, north - middle) >= radius ? depth : 0,
  )
  const at = middle * size + middle
  const closed = (r: number): number => 1 - depth / Math.hypot(depth, r)

  test('from its middle the sky is 1 - h / sqrt(h^2 + r^2)', () => {
    const seen = skyView(pit, { ...options, radiusM: radius + 4, directions: 64 })[at]!
    expect(seen).toBeGreaterThan(closed(radius) - 1e-6)
    expect(seen).toBeLessThan(closed(radius + 1.5))
  })

  test('from its middle the openness is the angle from straight up to the edge', () => {
    const open = openness(pit, { ...options, radiusM: radius + 4, directions: 64, towards: 'up' })[at]!
    const angle = (r: number): number => (Math.atan2(r, depth) * 180) / Math.PI
    expect(open).toBeGreaterThan(angle(radius) - 1e-5)
    expect(open).toBeLessThan(angle(radius + 1.5))
  })

  test('over the same form turned upside down, a hill, the downward openness is that angle and all of the sky is seen', () => {
    const hill = { ...pit, values: pit.values.map((height) => -height) }
    const up = openness(pit, { ...options, radiusM: radius + 4, directions: 64, towards: 'up' })[at]!
    expect(openness(hill, { ...options, radiusM: radius + 4, directions: 64, towards: 'down' })[at]).toBe(up)
    expect(skyView(hill, { ...options, radiusM: radius + 4, directions: 64 })[at]).toBe(1)
  })
})

test('heights taken twice are those of ground twice as steep', () => {
  const ground = terrainOf(21, 21, [1, 1], (x, y) => Math.sin(x / 2) * Math.cos(y / 3))
  const twice = { ...ground, values: ground.values.map((height) => 2 * height) }
  const near = { ...options, radiusM: 5 }
  expect(skyView(ground, { ...near, zFactor: 2 })).toEqual(skyView(twice, near))
})

test('rays: a place in each column or row within the radius, between the two cells nearest to it', () => {
  const { rays, reach } = castRays(
    { columns: 1, rows: 1, cellX: 1, cellY: 2, values: new Float32Array(1) },
    { radiusM: 10, directions: 8, zFactor: 1 },
  )
  expect(reach).toEqual({ columns: 10, rows: 5 })
  expect([...rays[0]!.down]).toEqual([-1, -2, -3, -4, -5])
  expect([...rays[2]!.right]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
  expect([...rays[0]!.perMetre]).toEqual([1 / 2, 1 / 4, 1 / 6, 1 / 8, 1 / 10])
  expect(rays.map(({ between }) => between)).toEqual([false, true, false, true])
  // North-east: one column right is half a row up, 1.41 m off.
  const { right, down, right2, down2, perMetre, perMetre2 } = rays[1]!
  expect([right[0], down[0], right2[0], down2[0]]).toEqual([1, -1, 1, 0])
  expect(perMetre[0]).toBeCloseTo(0.5 / Math.SQRT2, 9)
  expect(perMetre2[0]).toBeCloseTo(0.5 / Math.SQRT2, 9)
})

test('a hole hides nothing; a lone cell sees all of the sky and has no openness', () => {
  const lone = terrainOf(5, 5, [1, 1], (x, y) => (x === 2 && y === 2 ? 3 : Number.NaN))
  const near = { ...options, radiusM: 2 }
  expect(skyView(lone, near)[12]).toBe(1)
  expect(openness(lone, { ...near, towards: 'up' })[12]).toBeNaN()
})
