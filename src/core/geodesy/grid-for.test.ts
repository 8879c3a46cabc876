import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { gridFor } from './grid-for.ts'
import { isPlanarGrid, planarGrid, projectPoint } from './planar-grid.ts'
import { decodeShiftGrid } from './shift-grid.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)

// Places from memory, to about a kilometre.
test.each([
  ['Caister', 1.72, 52.66, 27_700],
  ["St Mary's, Scilly", -6.3, 49.92, 27_700],
  ['St Kilda', -8.58, 57.81, 27_700],
  ['Unst', -0.8, 60.8, 27_700],
  ['Douglas, Isle of Man', -4.48, 54.15, 27_700],
  ['Port Ellen, Islay', -6.19, 55.63, 27_700],
  ['Mull of Kintyre', -5.8, 55.3, 27_700],
  ['Portpatrick', -5.12, 54.84, 27_700],
  ['St Davids', -5.27, 51.88, 27_700],
  ['Dover', 1.31, 51.13, 27_700],
  ['Dungeness', 0.97, 50.91, 27_700],
  ['Dublin', -6.26, 53.35, 2157],
  ['Belfast', -5.93, 54.6, 2157],
  ['Portavogie', -5.43, 54.46, 2157],
  ['Rathlin', -6.2, 55.29, 2157],
  ['Malin Head', -7.37, 55.38, 2157],
  ['Great Blasket', -10.55, 52.09, 2157],
  ['Carnsore Point', -6.36, 52.17, 2157],
  ['Calais', 1.85, 50.95, 32_631],
  ['Dieppe', 1.08, 49.92, 32_631],
  ['Cherbourg', -1.62, 49.64, 32_630],
  ['Saint Helier', -2.1, 49.19, 32_630],
  ['Torshavn', -6.77, 62.01, 32_629],
  ['Bergen', 5.32, 60.39, 32_632],
  ['Sydney', 151.2, -33.87, 32_756],
  ['the south pole', 0, -90, 5042],
  ['the north pole', 0, 90, 5041],
])('%s', (_, lon, lat, epsg) => {
  expect(gridFor(lon, lat, shift)).toBe(epsg)
})

test('the grid chosen is known, and reaches the place', () => {
  const lon = fc.oneof(
    fc.double({ min: -180, max: 180, noNaN: true }),
    fc.double({ min: -12, max: 4, noNaN: true }),
  )
  const lat = fc.oneof(
    fc.double({ min: -90, max: 90, noNaN: true }),
    fc.double({ min: 49, max: 62, noNaN: true }),
  )
  fc.assert(
    fc.property(lon, lat, (x, y) => {
      const epsg = gridFor(x, y, shift)
      expect(isPlanarGrid(epsg)).toBe(true)
      expect(projectPoint(planarGrid(epsg, shift), x, y).every(Number.isFinite)).toBe(true)
    }),
    { numRuns: 1000 },
  )
})

test('regression: a hair short of 180 east there was no zone', () => {
  expect(gridFor(179.999_999_999_999_97, 0, shift)).toBe(32_601)
})

test('no place, no grid', () => {
  expect(() => gridFor(0, 91, shift)).toThrow(RangeError)
  expect(() => gridFor(Number.NaN, 0, shift)).toThrow(RangeError)
})
