import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { airy1830 } from './ellipsoid.ts'
import { fromNationalGrid, toNationalGrid } from './national-grid.ts'
import { planarGrid, projectPoint, unprojectPoint } from './planar-grid.ts'
import { decodeShiftGrid } from './shift-grid.ts'
import { projectTransverseMercator, transverseMercator } from './transverse-mercator.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)
const grid = planarGrid(27_700, shift)

test('the water tower at Caister: Ordnance Survey, A guide to coordinate systems in Great Britain, annex C, to 1 mm', () => {
  // The guide's example is the projection alone: OSGB36 latitude and longitude on Airy 1830, no shift grid.
  const projection = transverseMercator({
    ellipsoid: airy1830,
    originLat: 49,
    centralMeridian: -2,
    scale: 0.999_601_271_7,
    falseEasting: 400_000,
    falseNorthing: -100_000,
  })
  const pair = Float64Array.of(1 + 43 / 60 + 4.5177 / 3600, 52 + 39 / 60 + 27.2531 / 3600)
  projectTransverseMercator(projection, pair, pair)
  expect(Math.abs(pair[0]! - 651_409.903)).toBeLessThan(0.001)
  expect(Math.abs(pair[1]! - 313_177.27)).toBeLessThan(0.001)
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
