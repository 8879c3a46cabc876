import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { terrainOf } from '../../../test/relief/relief-fixture.ts'
import { arctangent } from './arctangent.ts'
import { blend, percentileStretch, stretchToGrey } from './index.ts'

describe('percentileStretch', () => {
  test('finds the value of a rank, NaN and infinities left out', () => {
    const anyValue = fc.oneof(
      fc.float({ min: -1000, max: 1000, noNaN: true }),
      fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, 3, 3, 3),
    )
    fc.assert(
      fc.property(
        fc.array(anyValue, { minLength: 1, maxLength: 200 }),
        fc.integer({ min: 0, max: 100 }),
        (list, percent) => {
          const stretch = percentileStretch(Float32Array.from(list), percent, 100)
          const sorted = list.filter(Number.isFinite).sort((a, b) => a - b)
          if (sorted.length === 0) {
            expect(stretch).toBeNull()
            return
          }
          const range = sorted.at(-1)! - sorted[0]!
          const wanted = sorted[Math.floor((percent / 100) * (sorted.length - 1))]!
          expect(Math.abs(stretch!.low - wanted)).toBeLessThanOrEqual(range / 4096 ** 2 + 1e-4)
          expect(stretch!.high).toBe(Math.fround(sorted.at(-1)!))
        },
      ),
    )
  })

  test('a few wild outliers do not coarsen it', () => {
    const values = Float32Array.from({ length: 10_000 }, (_, i) => i / 10_000)
    values[77] = 1e9
    const { low, high } = percentileStretch(values, 2, 98)!
    expect(low).toBeLessThan(100)
    expect(high).toBeLessThan(100)
  })

  test('percentages out of order are a wrong call', () => {
    expect(() => percentileStretch(new Float32Array(3), 90, 10)).toThrow(RangeError)
  })
})

test('stretchToGrey: ends, middle, beyond, none', () => {
  const out = new Uint8Array(6)
  stretchToGrey(Float32Array.of(-5, 0, 5, 10, 99, Number.NaN), { low: 0, high: 10 }, out)
  expect([...out]).toEqual([1, 1, 128, 255, 255, 0])
  stretchToGrey(Float32Array.of(7, 7, 7, 7, 7, Number.NaN), { low: 7, high: 7 }, out)
  expect([...out]).toEqual([128, 128, 128, 128, 128, 0])
})

test('arctangent is within 1e-9 of Math.atan', () => {
  for (let i = 0; i <= 200_000; i++) {
    const tangent = Math.tan((i / 200_000) * 1.5707)
    expect(Math.abs(arctangent(tangent) - Math.atan(tangent))).toBeLessThan(1e-9)
  }
  expect(arctangent(Number.POSITIVE_INFINITY)).toBe(Math.PI / 2)
  expect(arctangent(Number.NaN)).toBeNaN()
})

describe('blend', () => {
  const options = { radiusM: 6, directions: 16, zFactor: 1, edges: 'fill' } as const
  // A bank along north at 20 m and a ditch at 40 m, 0.3 m high and deep, on level ground.
  const ground = terrainOf(
    61,
    31,
    [1, 1],
    (x) => 0.3 * Math.exp(-(((x - 20) / 2) ** 2)) - 0.3 * Math.exp(-(((x - 40) / 2) ** 2)),
  )
  const row = blend(ground, options).subarray(15 * 61, 16 * 61)

  test('a bank is lighter than level ground, a ditch darker', () => {
    expect(row[20]).toBeGreaterThan(row[5]! + 30)
    expect(row[40]).toBeLessThan(row[5]! - 100)
  })

  test('level ground is one grey; without any height all is no data', () => {
    expect(
      new Set(
        blend(
          terrainOf(9, 9, [1, 1], () => 4),
          { ...options, radiusM: 2 },
        ),
      ).size,
    ).toBe(1)
    expect(
      new Set(
        blend(
          terrainOf(9, 9, [1, 1], () => Number.NaN),
          { ...options, radiusM: 2 },
        ),
      ),
    ).toEqual(new Set([0]))
  })
})
