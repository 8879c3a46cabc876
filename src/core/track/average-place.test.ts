import { expect, test } from 'vitest'
import { normal, seededRandom } from '#core/random'
import { averagePlace, errorOfFixes, errorOfMean, radiusOfError } from './index.ts'

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

test('the error of a mean that a receiver made is that of as many fixes; a radius goes back to its error', () => {
  expect(errorOfMean(1, null, error)).toBeCloseTo(2, 12)
  expect(errorOfMean(100, null, error)).toBeCloseTo(Math.sqrt(0.9 * 4 + 0.004), 12)
  const track = { epsg: 27_700, xy: new Float64Array(2), time: null, segmentStart: Uint32Array.of(0) }
  const accuracyM = Float64Array.of(radiusOfError(1.7))
  expect(errorOfFixes({ ...track, accuracyM }, { errorM: 2, hdopM: 2 })[0]).toBeCloseTo(1.7, 12)
})
