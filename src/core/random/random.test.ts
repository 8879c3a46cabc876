import fc from 'fast-check'
import { expect, test } from 'vitest'
import { normal, poisson, seededRandom, uniform, unit, wholeBelow, xoshiro128 } from './index.ts'

test('the stream from state 1, 2, 3, 4 is that of the published code', () => {
  // Made with xoshiro128starstar.c 1.1 by the authors of rand_xoshiro (MIT or Apache-2.0), test `reference` of xoshiro128starstar.rs.
  const expected = [
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
  ]
  const random = xoshiro128([1, 2, 3, 4])
  expect(expected.map(() => random.word())).toEqual(expected)
})

test('a seed repeats its stream and another seed does not', () => {
  const anySeed = fc.integer({ min: 0, max: 0xffff_ffff })
  fc.assert(
    fc.property(anySeed, anySeed, (seed, other) => {
      const words = (from: number): number[] => {
        const random = seededRandom(from)
        return [random.word(), random.word(), random.word(), random.word()]
      }
      expect(words(seed)).toEqual(words(seed))
      if (other !== seed) expect(words(other)).not.toEqual(words(seed))
    }),
  )
})

test('draws stay in their range', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 0xffff_ffff }),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-9, max: 1e6, noNaN: true }),
      fc.integer({ min: 1, max: 2 ** 32 }),
      (seed, low, width, count) => {
        const random = seededRandom(seed)
        const u = unit(random)
        expect(u >= 0 && u < 1).toBe(true)
        const value = uniform(random, low, low + width)
        expect(value >= low && (value < low + width || value === low)).toBe(true)
        const whole = wholeBelow(random, count)
        expect(Number.isInteger(whole) && whole >= 0 && whole < count).toBe(true)
      },
    ),
  )
})

/** Largest distance between the empirical distribution of `sample` and `cdf` (Kolmogorov's D). */
function largestStep(sample: number[], cdf: (x: number) => number): number {
  const sorted = sample.toSorted((a, b) => a - b)
  return sorted.reduce((most, x, i) => {
    const share = cdf(x)
    return Math.max(most, Math.abs(share - i / sorted.length), Math.abs(share - (i + 1) / sorted.length))
  }, 0)
}

/** Chance of a normal value below x: Abramowitz and Stegun 1964, 26.2.17, error below 7.5e-8. */
function normalShareBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x))
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  const tail = (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * poly
  return x < 0 ? tail : 1 - tail
}

// Kolmogorov's limit: D sqrt(n) exceeds 1.63 with chance 0.01 (Smirnov 1948); seeds are fixed, so a pass stays a pass.
const limit = (n: number): number => 1.63 / Math.sqrt(n)
const n = 100_000

test('unit draws are even and normal draws are normal', () => {
  const random = seededRandom(20260912)
  expect(
    largestStep(
      Array.from({ length: n }, () => unit(random)),
      (x) => x,
    ),
  ).toBeLessThan(limit(n))
  expect(
    largestStep(
      Array.from({ length: n }, () => normal(random)),
      normalShareBelow,
    ),
  ).toBeLessThan(limit(n))
})

test.each([0.3, 4, 60, 900])('counts of mean %d have that mean and variance', (mean) => {
  const random = seededRandom(7)
  const size = 20_000
  const counts = Array.from({ length: size }, () => poisson(random, mean))
  const average = counts.reduce((sum, count) => sum + count, 0) / size
  const variance = counts.reduce((sum, count) => sum + (count - average) ** 2, 0) / (size - 1)
  // Standard errors of mean and variance of a Poisson sample; four of them.
  expect(Math.abs(average - mean)).toBeLessThan(4 * Math.sqrt(mean / size))
  expect(Math.abs(variance - mean)).toBeLessThan(4 * Math.sqrt((mean + 2 * mean * mean) / size))
})

test('no counts come of no mean', () => {
  expect(poisson(seededRandom(1), 0)).toBe(0)
})

test('wrong calls are refused', () => {
  const random = seededRandom(1)
  expect(() => xoshiro128([0, 0, 0, 0])).toThrow(RangeError)
  expect(() => seededRandom(-1)).toThrow(RangeError)
  expect(() => seededRandom(0.5)).toThrow(RangeError)
  expect(() => uniform(random, 2, 1)).toThrow(RangeError)
  expect(() => wholeBelow(random, 0)).toThrow(RangeError)
  expect(() => poisson(random, -1)).toThrow(RangeError)
  expect(() => poisson(random, Infinity)).toThrow(RangeError)
})
