import { describe, expect, test } from 'vitest'
import { seededRandom, uniform } from '#core/random'
import {
  fastestSpeed,
  lateralChance,
  meanSweepShare,
  objectSensed,
  parallelSearchChance,
  randomSearchChance,
  scatterCrossed,
  sweepInWords,
  sweepShare,
} from './index.ts'

describe('figures worked by hand', () => {
  test('a coil of 0.25 m, one sweep a second: 0.25 m/s in the middle, 0.125 m/s at the edge', () => {
    expect(fastestSpeed(0.25, 1)).toEqual({ middleMs: 0.25, edgeMs: 0.125 })
    expect(sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 0.25 }, 0)).toBe(1)
    expect(sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 0.125 }, 1)).toBe(1)
    expect(sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 0.5 }, 0)).toBe(0.5)
  })

  test('search at random: coverage 0.5, 1 and 2', () => {
    expect(randomSearchChance(0.5)).toBeCloseTo(0.393, 3)
    expect(randomSearchChance(1)).toBeCloseTo(0.632, 3)
    expect(randomSearchChance(2)).toBeCloseTo(0.865, 3)
    expect(parallelSearchChance(0.7)).toBe(0.7)
    expect(parallelSearchChance(2)).toBe(1)
  })

  test('a scatter as wide as the spacing less the swath is never missed', () => {
    expect(scatterCrossed(5, 1.5, 20)).toBeCloseTo(0.325, 12)
    expect(scatterCrossed(18.5, 1.5, 20)).toBe(1)
    expect(scatterCrossed(40, 1.5, 20)).toBe(1)
  })
})

const tries = 40_000
/** Four standard errors of a share found in so many tries. */
const allowed = (share: number): number => 4 * Math.sqrt(Math.max(share * (1 - share), 1e-4) / tries)

test.each([
  [5, 1.5, 20],
  [0, 2, 10],
  [12, 0, 30],
  [9, 1.5, 10],
])('a scatter %d m across, swath %d m, lanes %d m apart: as thrown at random', (diameter, swath, spacing) => {
  const random = seededRandom(11)
  let crossed = 0
  for (let i = 0; i < tries; i++) {
    // Lanes lie at 0, s, 2 s ...: the scatter is crossed when its edge comes within half a swath of one.
    const centre = uniform(random, 0, spacing)
    const toLane = Math.min(centre, spacing - centre)
    if (toLane <= diameter / 2 + swath / 2) crossed++
  }
  const chance = scatterCrossed(diameter, swath, spacing)
  expect(Math.abs(crossed / tries - chance)).toBeLessThan(allowed(chance))
})

test.each([
  [0.25, 1, 0.5],
  [0.2, 0.8, 0.3],
  [0.3, 1, 0.1],
])('coil %d m, %d sweeps a second, %d m/s: as swept', (coilM, rateHz, speedMs) => {
  const sweep = { coilM, rateHz, speedMs }
  const random = seededRandom(12)
  const advance = speedMs / rateHz
  let sensed = 0
  for (let i = 0; i < tries; i++) {
    const u = uniform(random, -1, 1)
    const along = uniform(random, 0, 1000)
    // The coil's middle passes u at the share (1 + u) / 2 of a sweep to the right, (1 - u) / 2 of the next to the left.
    const nearest = Math.floor(along / (2 * advance)) * 2 * advance
    const passes = [-2, 0, 2].flatMap((n) => [
      nearest + advance * (n + (1 + u) / 2),
      nearest + advance * (n + 1 + (1 - u) / 2),
    ])
    if (passes.some((pass) => Math.abs(pass - along) <= coilM / 2)) sensed++
  }
  const share = meanSweepShare(sweep)
  expect(Math.abs(sensed / tries - share)).toBeLessThan(allowed(share))
  expect(objectSensed(1.5, 3, sweep)).toBeCloseTo(share / 2, 12)
})

test('the chance to the side is that of the normal distribution', () => {
  // Abramowitz and Stegun 1964, table 26.1: Phi(1) = 0.841344746, Phi(0.5) = 0.691462461, Phi(1.5) = 0.933192799.
  expect(lateralChance(0, 2, 1)).toBeCloseTo(2 * 0.841344746 - 1, 8)
  expect(lateralChance(1, 1, 1)).toBeCloseTo(0.933192799 - 0.691462461, 8)
  expect(lateralChance(0.4, 1, 0)).toBe(1)
  expect(lateralChance(0.6, 1, 0)).toBe(0)
})

test('speeds are said in words', () => {
  const words = (speedMs: number): string => sweepInWords({ coilM: 0.25, rateHz: 1, speedMs })
  expect(words(0.5)).toBe(
    'At 0.50 m/s sweeps leave ground out even in the middle of the arc. They overlap in the middle up to 0.25 m/s, to the very edge up to 0.12 m/s.',
  )
  expect(words(0.2)).toMatch(
    /^At 0.20 m\/s sweeps overlap in the middle of the arc and leave ground out towards its edges\./,
  )
  expect(words(0.12)).toBe('At 0.12 m/s sweeps overlap over the whole arc.')
})

test('wrong calls are refused', () => {
  expect(() => scatterCrossed(1, 1, 0)).toThrow(RangeError)
  expect(() => sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 0 }, 0)).toThrow(RangeError)
  expect(() => sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 1 }, 2)).toThrow(RangeError)
  expect(() => fastestSpeed(0, 1)).toThrow(RangeError)
  expect(() => randomSearchChance(-1)).toThrow(RangeError)
  expect(() => randomSearchChance(Number.NaN)).toThrow(RangeError)
})
