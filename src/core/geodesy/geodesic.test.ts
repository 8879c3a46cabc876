import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { geodesicArea, geodesicLine, geodesicPoint } from './geodesic.ts'

const fixtures = new URL('../../../fixtures/geodesy/geodtest/', import.meta.url)
const hundred = readFileSync(new URL('GeodTest-100.dat', fixtures), 'utf8')
  .trim()
  .split('\n')
  .map((line) => line.split(' ').map(Number))
const twenty = readFileSync(new URL('geodtest_20cases.csv', fixtures), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number))

const circle = (bearing: number): number => ((bearing % 360) + 360) % 360
const apart = (a: number, b: number): number => Math.abs(circle(a - b + 180) - 180)

test('GeodTest, 100 cases: distance to 10 nanometres, bearings to 1e-9 degree, the far place to 1e-12 degree', () => {
  expect(hundred).toHaveLength(100)
  for (const [lat1, lon1, azi1, lat2, lon2, azi2, s12] of hundred as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ][]) {
    const line = geodesicLine(lon1, lat1, lon2, lat2)
    expect(Math.abs(line.distanceM - s12)).toBeLessThan(1e-8)
    // Bearings are ill defined between places close together or nearly opposite; the direct problem holds everywhere.
    const [lon, lat] = geodesicPoint(lon1, lat1, azi1, s12)
    expect(Math.abs(lat - lat2)).toBeLessThan(1e-12)
    expect(apart(lon, lon2) * Math.cos((lat * Math.PI) / 180)).toBeLessThan(1e-12)
    if (s12 > 1000 && s12 < 19_900_000) {
      expect(apart(line.startBearing, azi1)).toBeLessThan(1e-9)
      expect(apart(line.endBearing, azi2)).toBeLessThan(1e-9)
    }
  }
})

test('the 20 cases of GeographicLib', () => {
  expect(twenty).toHaveLength(20)
  for (const [lat1, lon1, azi1, lat2, lon2, azi2, s12] of twenty as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ][]) {
    const line = geodesicLine(lon1, lat1, lon2, lat2)
    expect(Math.abs(line.distanceM - s12)).toBeLessThan(2e-8)
    expect(apart(line.startBearing, azi1)).toBeLessThan(1e-12)
    expect(apart(line.endBearing, azi2)).toBeLessThan(1e-12)
  }
})

test('area: the octant of the WGS84 ellipsoid is an eighth of its surface, 510065621724.09 m2 (GeographicLib, Planimeter)', () => {
  // Source: Planimeter's documented area of the whole ellipsoid, 510065621724088.44 m2; an octant is an eighth.
  const { areaM2 } = geodesicArea(Float64Array.of(0, 0, 90, 0, 0, 90))
  expect(Math.abs(areaM2 - 510_065_621_724_088.44 / 8)).toBeLessThan(1)
})

test('area does not depend on winding, on where the ring begins, nor on its being closed', () => {
  const place = fc.tuple(
    fc.double({ min: -180, max: 179, noNaN: true }),
    fc.double({ min: -80, max: 80, noNaN: true }),
  )
  fc.assert(
    fc.property(place, ([lon, lat]) => {
      const ring = Float64Array.of(lon, lat, lon + 0.01, lat, lon + 0.01, lat + 0.01, lon, lat + 0.01)
      const turned = Float64Array.of(lon, lat + 0.01, lon + 0.01, lat + 0.01, lon + 0.01, lat, lon, lat)
      const closed = Float64Array.from([...ring, lon, lat])
      const { areaM2, perimeterM } = geodesicArea(ring)
      expect(areaM2).toBeGreaterThan(0)
      for (const other of [turned, closed]) {
        expect(geodesicArea(other).areaM2).toBeCloseTo(areaM2, 1)
        expect(geodesicArea(other).perimeterM).toBeCloseTo(perimeterM, 6)
      }
    }),
  )
})
