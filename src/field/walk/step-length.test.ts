import fc from 'fast-check'
import { Geodesic } from 'geographiclib-geodesic'
import { expect, test } from 'vitest'
import { stepLength } from './step-length.ts'

// Expected: geodesics by GeographicLib (npm geographiclib-geodesic 2.2.0, Karney 2013).
test('a step is as long as the geodesic, to a ten-thousandth', () => {
  const anyStep = fc.record({
    lat: fc.double({ min: -75, max: 75, noNaN: true }),
    lon: fc.double({ min: -180, max: 180, noNaN: true }),
    bearing: fc.double({ min: 0, max: 360, noNaN: true }),
    length: fc.double({ min: 0.1, max: 10_000, noNaN: true }),
  })
  fc.assert(
    fc.property(anyStep, ({ lat, lon, bearing, length }) => {
      const { lat2, lon2 } = Geodesic.WGS84.Direct(lat, lon, bearing, length)
      const got = stepLength({ lat, lon }, { lat: lat2!, lon: lon2! })
      expect(Math.abs(got / length - 1)).toBeLessThan(1e-4)
    }),
  )
})

test('a step over the date line is short', () => {
  expect(stepLength({ lat: 0, lon: 179.9999 }, { lat: 0, lon: -179.9999 })).toBeCloseTo(22.26, 2)
})
