import { expect, test } from 'vitest'
import { normal, seededRandom } from '#core/random'
import { averagePlace } from './index.ts'

const error = { errorM: 2, quickShare: 0.1 }

test('the mean of fixes keeps their spread; only the quick part of the error is averaged away', () => {
  const random = seededRandom(2)
  const xy = Float64Array.from(
    { length: 800 },
    (_, k) => (k % 2 === 0 ? 561_000 : 342_000) + 0.6 * normal(random),
  )
  const found = averagePlace(xy, error)!
  expect(found.fixes).toBe(400)
  expect(Math.hypot(found.x - 561_000, found.y - 342_000)).toBeLessThan(0.15)
  expect(Math.abs(found.spreadM! / 0.6 - 1)).toBeLessThan(0.1)
  expect(found.errorM).toBeGreaterThan(2 * Math.sqrt(0.9))
  expect(found.errorM).toBeLessThan(2 * Math.sqrt(0.9) + 0.01)
})

test('one fix has no spread and its own error; fixes that scatter more than told are believed less', () => {
  expect(averagePlace(Float64Array.of(5, 6), error)).toEqual({
    x: 5,
    y: 6,
    fixes: 1,
    spreadM: null,
    errorM: 2,
  })
  expect(averagePlace(Float64Array.of(5, 6, Number.NaN, 1), error)?.fixes).toBe(1)
  expect(averagePlace(new Float64Array(0), error)).toBeNull()
  const wild = averagePlace(Float64Array.of(0, 0, 20, 0, -20, 0), error)!
  expect(wild.spreadM).toBeCloseTo(Math.sqrt(200), 9)
  expect(wild.errorM).toBeGreaterThan(8)
})
