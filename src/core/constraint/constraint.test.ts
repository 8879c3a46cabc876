import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom, uniform } from '#core/random'
import { box } from '../../../test/cover/planar-shapes.ts'
import { starRing, toSegment } from '../../../test/lanes/drawn-areas.ts'
import { clashesOf, clashInWords, noShape, type Shape } from './index.ts'

const polygon = (...rings: Float64Array[]): Shape => ({ ...noShape, polygons: [{ rings }] })
const line = (...xy: number[]): Shape => ({ ...noShape, lines: [Float64Array.from(xy)] })
const points = (...xy: number[]): Shape => ({ ...noShape, points: Float64Array.from(xy) })

describe('two shapes by hand', () => {
  const field = polygon(box(0, 0, 100, 100), box(40, 40, 60, 60))
  test.each([
    ['a target inside', points(10, 10), 0, 0],
    ['a target in a hole, ten metres from the edge', points(50, 50), 10, 10],
    ['the same, out of the buffer', points(50, 50), 9.9, null],
    ['a target outside', points(103, 104), 5, 5],
    ['a lane across', line(-10, 50, 110, 50), 0, 0],
    ['a lane inside that meets no edge', line(5, 5, 20, 20), 0, 0],
    ['a lane alongside', line(-3, -10, -3, 120), 5, 3],
    ['an area that holds it', polygon(box(-50, -50, 150, 150)), 0, 0],
    ['an area within its hole', polygon(box(45, 45, 55, 55)), 7, 5],
    ['an area far off', polygon(box(500, 500, 600, 600)), 100, null],
  ] as [string, Shape, number, number | null][])('%s', (_, planned, buffer, distance) => {
    const clashes = clashesOf([planned], [field], buffer)
    expect(clashes.map(({ distanceM }) => distanceM)).toEqual(distance === null ? [] : [distance])
  })
})

const anyShape: fc.Arbitrary<Shape> = fc
  .tuple(
    fc.integer({ min: 0, max: 1000 }),
    fc.integer({ min: 0, max: 1000 }),
    fc.array(fc.double({ min: 5, max: 80, noNaN: true }), { minLength: 3, maxLength: 7 }),
    fc.constantFrom('polygon', 'line', 'points'),
  )
  .map(([x, y, radii, kind]) => {
    const ring = starRing(x, y, radii)
    if (kind === 'polygon') return polygon(ring)
    return kind === 'line' ? line(...ring.subarray(0, -2)) : points(...ring.subarray(0, -2))
  })

/** Whether two shapes come within a distance, told by many places of the one against all segments of the other. */
function comesWithin(a: Shape, b: Shape, metres: number): boolean {
  const places = [...a.polygons.flatMap(({ rings }) => rings), ...a.lines].flatMap((xy) => {
    const out: [number, number][] = []
    for (let i = 0; i + 3 < xy.length; i += 2)
      for (let t = 0; t <= 1; t += 1 / 256)
        out.push([xy[i]! + t * (xy[i + 2]! - xy[i]!), xy[i + 1]! + t * (xy[i + 3]! - xy[i + 1]!)])
    return out
  })
  for (let i = 0; i < a.points.length; i += 2) places.push([a.points[i]!, a.points[i + 1]!])
  return places.some(([x, y]) => {
    const rings = [...b.polygons.flatMap((part) => part.rings), ...b.lines]
    for (let i = 0; i < b.points.length; i += 2)
      if (Math.hypot(x - b.points[i]!, y - b.points[i + 1]!) <= metres) return true
    return rings.some((xy) => {
      for (let i = 0; i + 3 < xy.length; i += 2)
        if (toSegment(x, y, xy[i]!, xy[i + 1]!, xy[i + 2]!, xy[i + 3]!) <= metres) return true
      return false
    })
  })
}

test('clashes are those of comparing each with each, and do not depend on who asks', () => {
  fc.assert(
    fc.property(
      fc.array(anyShape, { minLength: 1, maxLength: 4 }),
      fc.array(anyShape, { minLength: 1, maxLength: 30 }),
      fc.double({ min: 0, max: 60, noNaN: true }),
      (planned, constraints, buffer) => {
        const clashes = clashesOf(planned, constraints, buffer)
        const back = clashesOf(constraints, planned, buffer)
        const key = (p: number, c: number): string => `${p} ${c}`
        expect(clashes.map((clash) => key(clash.planned, clash.constraint)).sort()).toEqual(
          back.map((clash) => key(clash.constraint, clash.planned)).sort(),
        )
        const found = new Set(clashes.map((clash) => key(clash.planned, clash.constraint)))
        planned.forEach((a, p) => {
          constraints.forEach((b, c) => {
            // Places lie up to 0.4 m apart along an edge: within that of the buffer either answer may stand.
            if (comesWithin(a, b, buffer - 0.4)) expect(found.has(key(p, c))).toBe(true)
            const held = clashes.some(
              (clash) => clash.planned === p && clash.constraint === c && clash.distanceM === 0,
            )
            if (!held && !comesWithin(a, b, buffer + 0.4)) expect(found.has(key(p, c))).toBe(false)
          })
        })
      },
    ),
    { numRuns: 60 },
  )
})

test('ten thousand lanes against five thousand constraints: the same as one by one for some of them', () => {
  const random = seededRandom(5)
  const constraints = Array.from({ length: 5_000 }, () => {
    const [x, y] = [uniform(random, 0, 20_000), uniform(random, 0, 20_000)]
    return polygon(starRing(x, y, [10, 25, 15, 30, 20]))
  })
  const lanes = Array.from({ length: 10_000 }, (_, i) =>
    line(
      3000 + (i % 1000) * 2,
      4000 + Math.floor(i / 1000) * 60,
      3000 + (i % 1000) * 2,
      4055 + Math.floor(i / 1000) * 60,
    ),
  )
  const clashes = clashesOf(lanes, constraints, 20)
  for (let lane = 0; lane < lanes.length; lane += 1000) {
    const alone = clashesOf([lanes[lane]!], constraints, 20)
    expect(clashes.filter(({ planned }) => planned === lane)).toEqual(
      alone.map((clash) => ({ ...clash, planned: lane })),
    )
  }
  expect(clashes.length).toBeGreaterThan(100)
})

test('a clash is said in words', () => {
  expect(clashInWords('Lane 12', 'the monument', 0, 30)).toBe('Lane 12 touches the monument.')
  expect(clashInWords('Target 3', 'the gas main', 12.4, 30)).toBe(
    'Target 3 is 12 m from the gas main; 30 m were to be kept.',
  )
})

test('a wrong buffer is refused, and nothing clashes with nothing', () => {
  expect(() => clashesOf([], [], -1)).toThrow(RangeError)
  expect(() => clashesOf([], [], Number.NaN)).toThrow(RangeError)
  expect(clashesOf([points(0, 0)], [noShape], 5)).toEqual([])
  expect(clashesOf([points(Number.NaN, 0)], [polygon(box(0, 0, 9, 9))], 5)).toEqual([])
})
