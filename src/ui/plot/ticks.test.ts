import fc from 'fast-check'
import { expect, test } from 'vitest'
import { roundBelow, roundTicks } from './ticks.ts'

test('ticks are round, within the range and evenly apart', () => {
  expect(roundTicks(0, 10)).toEqual([0, 2, 4, 6, 8, 10])
  expect(roundTicks(0, 1, 4)).toEqual([0, 0.5, 1])
  expect(() => roundTicks(1, 1)).toThrow(RangeError)
  fc.assert(
    fc.property(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
      (min, span) => {
        const ticks = roundTicks(min, min + span)
        const slack = span * 1e-6
        expect(ticks.length).toBeLessThanOrEqual(6)
        for (const tick of ticks) expect(tick >= min - slack && tick <= min + span + slack).toBe(true)
      },
    ),
  )
})

test.each([
  [130, 100],
  [99, 50],
  [50, 50],
  [0.7, 0.5],
  [2400, 2000],
])('a bar of at most %d m is %d m', (most, length) => expect(roundBelow(most)).toBeCloseTo(length, 9))
