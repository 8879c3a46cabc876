import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { airy1830, airyModified1849, grs80, wgs84 } from './ellipsoid.ts'
import { planarGrid } from './planar-grid.ts'
import {
  projectTransverseMercator,
  type TransverseMercator,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'

const fixtures = new URL('../../../fixtures/geodesy/', import.meta.url)
const nationalGridOn = {
  originLat: 49,
  centralMeridian: -2,
  scale: 0.999_601_271_7,
  falseEasting: 400_000,
  falseNorthing: -100_000,
}

const projections = {
  '5101.1-jhs.gie': transverseMercator({ ellipsoid: wgs84, ...nationalGridOn }),
  '5101.2-jhs.gie': utm(wgs84, 3, 0),
  '5101.3-jhs.gie': utm(grs80, 141, 10_000_000),
  '5101.4-jhs-etmerc.gie': transverseMercator({
    ellipsoid: grs80,
    originLat: -90,
    centralMeridian: -60,
    scale: 1,
    falseEasting: 5_500_000,
    falseNorthing: 0,
  }),
}

function utm(ellipsoid: typeof wgs84, centralMeridian: number, falseNorthing: number): TransverseMercator {
  return transverseMercator({
    ellipsoid,
    originLat: 0,
    centralMeridian,
    scale: 0.9996,
    falseEasting: 500_000,
    falseNorthing,
  })
}

test.each(Object.entries(projections))(
  'IOGP GIGS %s, tolerance 0.03 m, round trip 0.006 m after 1000 turns',
  (file, tm) => {
    const text = readFileSync(new URL(`gigs-5101/${file}`, fixtures), 'utf8')
    // The file goes both ways: the step of the grid carries +inv where metres are given.
    let inverse = false
    let accepted: [number, number] = [0, 0]
    let cases = 0
    for (const line of text.split('\n')) {
      const [word, a, b] = line.trim().split(/\s+/)
      if (/proj=etmerc|epsg:32631|epsg:28354/.test(line)) inverse = line.includes('+inv')
      if (word === 'accept') accepted = [Number(a), Number(b)]
      if (word === 'expect') {
        const pair = Float64Array.from(accepted)
        if (inverse) unprojectTransverseMercator(tm, pair, pair)
        else projectTransverseMercator(tm, pair, pair)
        const tolerance = inverse ? 3e-7 : 0.03
        expect(Math.abs(pair[0]! - Number(a)), line).toBeLessThan(tolerance)
        expect(Math.abs(pair[1]! - Number(b)), line).toBeLessThan(tolerance)
        cases += 1
      }
      if (word === 'roundtrip') {
        const there = Float64Array.from(accepted)
        projectTransverseMercator(tm, there, there)
        const once = there.slice()
        for (let turn = 0; turn < 1000; turn += 1) {
          unprojectTransverseMercator(tm, there, there)
          projectTransverseMercator(tm, there, there)
        }
        expect(Math.hypot(there[0]! - once[0]!, there[1]! - once[1]!)).toBeLessThan(0.006)
      }
    }
    expect(cases).toBeGreaterThan(15)
  },
)

const projCases = readFileSync(new URL('proj/expected.csv', fixtures), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','))

const bare: Record<string, TransverseMercator> = {
  'tm-airy': transverseMercator({ ellipsoid: airy1830, ...nationalGridOn }),
  tm75: transverseMercator({
    ellipsoid: airyModified1849,
    originLat: 53.5,
    centralMeridian: -8,
    scale: 1.000_035,
    falseEasting: 200_000,
    falseNorthing: 250_000,
  }),
}

test.each([...new Set(projCases.map(([name]) => name!))])(
  'PROJ 9.1.1 (cs2cs) and ours agree on %s to 2 micrometres, both ways',
  (name) => {
    const rows = projCases.filter(([grid]) => grid === name)
    expect(rows).toHaveLength(60)
    const tm = bare[name]
    const grid = tm === undefined ? planarGrid(Number(name), null) : null
    const lonLat = Float64Array.from(rows.flatMap(([, lat, lon]) => [Number(lon), Number(lat)]))
    const out = new Float64Array(lonLat.length)
    const back = new Float64Array(lonLat.length)
    if (grid !== null) {
      grid.forward(lonLat, out)
      grid.inverse(out, back)
    } else {
      projectTransverseMercator(tm!, lonLat, out)
      unprojectTransverseMercator(tm!, out, back)
    }
    for (const [k, [, , , easting, northing]] of rows.entries()) {
      expect(Math.abs(out[2 * k]! - Number(easting))).toBeLessThan(2e-6)
      expect(Math.abs(out[2 * k + 1]! - Number(northing))).toBeLessThan(2e-6)
      expect(Math.abs(back[2 * k + 1]! - lonLat[2 * k + 1]!)).toBeLessThan(1e-12)
    }
  },
)

test('UTM there and back, anywhere within 30 degrees of the central meridian and in any zone', () => {
  const zone = fc.integer({ min: 1, max: 60 })
  const off = fc.double({ min: -30, max: 30, noNaN: true })
  const lat = fc.double({ min: -89, max: 89, noNaN: true })
  fc.assert(
    fc.property(zone, fc.boolean(), off, lat, (z, south, dLon, phi) => {
      const grid = planarGrid((south ? 32_700 : 32_600) + z, null)
      const lon = 6 * z - 183 + dLon
      const pair = Float64Array.of(lon, phi)
      grid.forward(pair, pair)
      grid.inverse(pair, pair)
      expect(Math.abs(pair[1]! - phi)).toBeLessThan(1e-12)
      const turned = ((pair[0]! - lon + 540) % 360) - 180
      expect(Math.abs(turned) * Math.cos((phi * Math.PI) / 180)).toBeLessThan(1e-12)
    }),
    { numRuns: 1000 },
  )
})

test('far from the central meridian, past the poles, and for no number there is no position', () => {
  const grid = planarGrid(32_630, null)
  const out = new Float64Array(8)
  grid.forward(Float64Array.of(60, 0, -3, 90.5, NaN, 10, -3, NaN), out)
  expect([...out].every(Number.isNaN)).toBe(true)
  grid.inverse(Float64Array.of(9e6, 0, 500_000, 3e7, NaN, 0, 0, NaN), out)
  expect([...out].every(Number.isNaN)).toBe(true)
  const pole = Float64Array.of(100, 90)
  grid.forward(pole, pole)
  expect(pole[0]).toBeCloseTo(500_000, 6)
  expect(() => planarGrid(3857, null)).toThrow(RangeError)
})
