import fc from 'fast-check'
import { expect, test } from 'vitest'
import { etrs89FromIreland1975, fromIrishGrid, toIrishGrid } from './irish-grid.ts'
import { planarGrid, projectPoint } from './planar-grid.ts'

test('the polynomial: example of IOGP Guidance Note 7-2, EPSG method 9647 and transformation 1041', () => {
  // 55 00 00 N, 6 30 00 W of 1975 is 55 00 00.107 N, 6 30 03.417 W of ETRS89; eight decimals as in its test in PHPCoord 5.
  const pair = Float64Array.of(-6.5, 55)
  etrs89FromIreland1975(pair)
  expect(Math.abs(pair[1]! - 55.000_029_72)).toBeLessThan(1e-8)
  expect(Math.abs(pair[0]! + 6.500_949_13)).toBeLessThan(1e-8)
})

test('there and back within a micrometre, all over the island', () => {
  const lon = fc.double({ min: -10.7, max: -5.3, noNaN: true })
  const lat = fc.double({ min: 51.3, max: 55.5, noNaN: true })
  fc.assert(
    fc.property(lon, lat, (x, y) => {
      const there = Float64Array.of(x, y)
      toIrishGrid(there, there)
      fromIrishGrid(there, there)
      expect(Math.abs(there[0]! - x)).toBeLessThan(1e-11)
      expect(Math.abs(there[1]! - y)).toBeLessThan(1e-11)
    }),
    { numRuns: 1000 },
  )
})

test('within 1.5 m of the seven-parameter transformation, as PROJ 9.1.1 makes it (cs2cs EPSG:4326 EPSG:29903)', () => {
  // Dublin, Galway, Cork, Belfast, Malin Head; a check on sense and size, not on the last decimetre.
  const expected = [
    [53.35, -6.26, 315919.995, 234694.102],
    [53.27, -9.05, 129994.247, 224892.149],
    [51.9, -8.47, 167698.374, 72025.434],
    [54.6, -5.93, 333825.942, 374388.197],
    [55.38, -7.37, 239983.417, 459433.487],
  ] as const
  for (const [lat, lon, easting, northing] of expected) {
    const [x, y] = projectPoint(planarGrid(29_903, null), lon, lat)
    expect(Math.hypot(x - easting, y - northing)).toBeLessThan(1.5)
  }
})

test('away from the island there is no position', () => {
  const out = new Float64Array(4)
  toIrishGrid(Float64Array.of(-1, 52, NaN, 53), out)
  expect([...out].every(Number.isNaN)).toBe(true)
  fromIrishGrid(Float64Array.of(900_000, 200_000, 200_000, 2_000_000), out)
  expect([...out].every(Number.isNaN)).toBe(true)
})
