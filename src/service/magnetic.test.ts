import { expect, test } from 'vitest'
import { magneticNorth } from './magnetic.ts'

/** Rows at ground level of WMM2025_TEST_VALUES.txt, NOAA/NCEI, public domain: decimal year, latitude, longitude, declination. */
test.each([
  [2025, 80, 0, 1.28],
  [2025, 0, 120, -0.16],
  [2025, -80, -120, 68.78],
  [2027.5, 80, 0, 2.59],
  [2027.5, 0, 120, -0.24],
  [2027.5, -80, -120, 68.49],
])('year %f, latitude %f, longitude %f: declination %f', (year, lat, lon, expected) => {
  const start = Date.UTC(Math.floor(year), 0, 1)
  const length = Date.UTC(Math.floor(year) + 1, 0, 1) - start
  const north = magneticNorth(lon, lat, new Date(start + (year % 1) * length))
  // The values are printed to 0.01 degree.
  expect(Math.abs(north!.declination - expected)).toBeLessThan(0.0051)
})

test('no answer outside the years of the model or near a pole', () => {
  expect(magneticNorth(0, 53, new Date('2024-12-31T23:59:59Z'))).toBeNull()
  expect(magneticNorth(0, 53, new Date('2030-01-01T00:00:00Z'))).toBeNull()
  expect(magneticNorth(0, 85, new Date('2026-06-01T00:00:00Z'))).toBeNull()
})
