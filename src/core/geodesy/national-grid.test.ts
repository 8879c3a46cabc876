import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { airy1830, grs80 } from './ellipsoid.ts'
import { fromNationalGrid, toNationalGrid } from './national-grid.ts'
import {
  nationalGridProjection,
  projectNationalGrid,
  unprojectNationalGrid,
} from './national-grid-projection.ts'
import { planarGrid, projectPoint, unprojectPoint } from './planar-grid.ts'
import { decodeShiftGrid } from './shift-grid.ts'
import { projectTransverseMercator } from './transverse-mercator.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)
const grid = planarGrid(27_700, shift)

function table(file: string): string[][] {
  const text = readFileSync(new URL(`../../../fixtures/geodesy/${file}`, import.meta.url), 'utf8')
  return text
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','))
}

test('the water tower at Caister: Ordnance Survey, A guide to coordinate systems in Great Britain, annex C, to 1 mm', () => {
  const pair = new Float64Array(2)
  // The guide's example is the projection alone: OSGB36 latitude and longitude on Airy 1830, no shift grid.
  const series = nationalGridProjection(airy1830)
  const place = Float64Array.of(1 + 43 / 60 + 4.5177 / 3600, 52 + 39 / 60 + 27.2531 / 3600)
  for (const project of [
    () => projectNationalGrid(series, place, pair),
    () => projectTransverseMercator(series.exact, place, pair),
  ]) {
    project()
    expect(Math.abs(pair[0]! - 651_409.903)).toBeLessThan(0.001)
    expect(Math.abs(pair[1]! - 313_177.27)).toBeLessThan(0.001)
  }
  unprojectNationalGrid(series, Float64Array.of(651_409.903, 313_177.27), pair)
  expect(Math.abs(pair[0]! - place[0]!) * 111_200).toBeLessThan(0.001)
  expect(Math.abs(pair[1]! - place[1]!) * 111_200).toBeLessThan(0.001)
})

test('there and back lands within a thousandth of a millimetre, over all of the grid', () => {
  const place = fc.tuple(
    fc.double({ min: 120, max: 699_900, noNaN: true }),
    fc.double({ min: 0, max: 1_249_900, noNaN: true }),
  )
  fc.assert(
    fc.property(place, ([easting, northing]) => {
      const pair = Float64Array.of(easting, northing)
      const there = new Float64Array(2)
      fromNationalGrid(shift, pair, there)
      toNationalGrid(shift, there, there)
      expect(Math.abs(there[0]! - easting)).toBeLessThan(1e-6)
      expect(Math.abs(there[1]! - northing)).toBeLessThan(1e-6)
    }),
    { numRuns: 2000 },
  )
})

test('outside the shift grid there is no position, never one by another way', () => {
  const outside = Float64Array.of(-10, 53, 2, 48.8, 200, 100, NaN, 52)
  const out = new Float64Array(8)
  toNationalGrid(shift, outside, out)
  expect([...out].every(Number.isNaN)).toBe(true)
  expect(() => projectPoint(grid, 2, 48.8)).toThrow('outside British National Grid')
  expect(() => unprojectPoint(grid, -5000, -5000)).toThrow('check the figures')
  expect(() => planarGrid(27_700, null)).toThrow(RangeError)
})

test('the 40 OSTN15 test stations of Ordnance Survey, forward to the millimetre', () => {
  const stations = table('ostn15-stations/expected.csv')
  expect(stations).toHaveLength(40)
  const worst = stations.map(([station, lat, lon, easting, northing]) => {
    const [x, y] = projectPoint(grid, Number(lon), Number(lat))
    return { station, off: Math.max(Math.abs(x - Number(easting)), Math.abs(y - Number(northing))) }
  })
  // Published to 1 mm, so half of that is their rounding.
  for (const { station, off } of worst) expect(off, station).toBeLessThan(0.000_51)
})

test('the 40 stations, back to within a millimetre of the published latitude and longitude', () => {
  for (const [station, lat, lon, easting, northing] of table('ostn15-stations/expected.csv')) {
    const [x, y] = unprojectPoint(grid, Number(easting), Number(northing))
    expect(Math.abs(y - Number(lat)) * 111_200, station).toBeLessThan(0.000_51)
    expect(Math.abs(x - Number(lon)) * 111_200 * Math.cos(Number(lat) / 57.3), station).toBeLessThan(0.000_51)
  }
})

test('1000 places by Geo::Coordinates::OSGB 2.20, which rounds to the millimetre', () => {
  const places = table('osgb-perl/expected.csv')
  expect(places).toHaveLength(1000)
  const lonLat = Float64Array.from(places.flatMap(([lat, lon]) => [Number(lon), Number(lat)]))
  const out = new Float64Array(lonLat.length)
  toNationalGrid(shift, lonLat, out)
  for (const [k, [, , easting, northing]] of places.entries()) {
    expect(Math.abs(out[2 * k]! - Number(easting))).toBeLessThan(0.00051)
    expect(Math.abs(out[2 * k + 1]! - Number(northing))).toBeLessThan(0.00051)
  }
})

test('the published series keeps within 3 mm of the exact projection over all of the grid', () => {
  const series = nationalGridProjection(grs80)
  const there = new Float64Array(2)
  const exact = new Float64Array(2)
  for (let easting = 0; easting <= 700_000; easting += 20_000) {
    for (let northing = 0; northing <= 1_250_000; northing += 50_000) {
      unprojectNationalGrid(series, Float64Array.of(easting, northing), there)
      projectTransverseMercator(series.exact, there, exact)
      expect(Math.hypot(exact[0]! - easting, exact[1]! - northing)).toBeLessThan(0.003)
    }
  }
})
