import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { gridBearing, gridConvergence, planarBearing, trueBearing, wholeCircle } from './convergence.ts'
import { geodesicLine } from './geodesic.ts'
import { planarGrid, projectPoint } from './planar-grid.ts'
import { decodeShiftGrid } from './shift-grid.ts'
import { utmEpsg } from './utm-zone.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)
const cases = readFileSync(
  new URL('../../../fixtures/geodesy/geographiclib/expected.csv', import.meta.url),
  'utf8',
)
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','))

test('convergence in UTM and UPS as GeographicLib 2.1.2 gives it, to 1e-6 degree', () => {
  let compared = 0
  for (const [y, x, , expected] of cases) {
    const [lat, lon] = [Number(y), Number(x)]
    const epsg = lat >= 84 ? 5041 : lat < -80 ? 5042 : utmEpsg(lon, lat)
    // Steps of 1e-4 degree around a place nearer to the pole than that would pass over it.
    if (Math.abs(lat) > 89.9) continue
    const ours = gridConvergence(planarGrid(epsg, null), lon, lat)
    expect(Math.abs(wholeCircle(ours - Number(expected) + 180) - 180), `${lat} ${lon}`).toBeLessThan(1e-6)
    compared += 1
  }
  expect(compared).toBeGreaterThan(980)
})

test('a true bearing less the convergence is the bearing on the map, in Britain by OSTN15', () => {
  const grid = planarGrid(27_700, shift)
  const lon = fc.double({ min: -6, max: 1.5, noNaN: true })
  const lat = fc.double({ min: 50.5, max: 59, noNaN: true })
  fc.assert(
    fc.property(lon, lat, fc.double({ min: -0.001, max: 0.001, noNaN: true }), (x, y, step) => {
      fc.pre(Math.abs(step) > 1e-4)
      const line = geodesicLine(x, y, x + step, y + step)
      const [e1, n1] = projectPoint(grid, x, y)
      const [e2, n2] = projectPoint(grid, x + step, y + step)
      const expected = gridBearing(line.startBearing, gridConvergence(grid, x, y))
      const off = wholeCircle(planarBearing(e1, n1, e2, n2) - expected + 180) - 180
      // OSGB36's own distortions turn directions by some seconds of arc.
      expect(Math.abs(off)).toBeLessThan(0.005)
    }),
  )
})

test('bearings go round the circle', () => {
  expect(planarBearing(0, 0, 0, 1)).toBe(0)
  expect(planarBearing(0, 0, 1, 0)).toBe(90)
  expect(planarBearing(0, 0, -1, 0)).toBe(270)
  expect(planarBearing(5, 5, 5, 5)).toBeNaN()
  expect(gridBearing(1, 2)).toBe(359)
  expect(trueBearing(359, 2)).toBe(1)
  expect(wholeCircle(-1e-20)).toBe(0)
})
