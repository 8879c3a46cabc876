import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { forward } from 'mgrs'
import { expect, test } from 'vitest'
import { formatMgrs, parseMgrs } from './mgrs.ts'
import { planarGrid, unprojectPoint } from './planar-grid.ts'
import { utmZone } from './utm-zone.ts'

const cases = readFileSync(
  new URL('../../../fixtures/geodesy/geographiclib/expected.csv', import.meta.url),
  'utf8',
)
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','))
const lon = fc.double({ min: -180, max: 179.999, noNaN: true })
const lat = fc.double({ min: -90, max: 90, noNaN: true })
const digits = fc.integer({ min: 0, max: 8 }).map((half) => 2 * half)

test('1000 references by GeographicLib 2.1.2: over the globe, in the widened zones, around the poles', () => {
  expect(cases).toHaveLength(1000)
  for (const [y, x, reference] of cases) {
    expect(formatMgrs(Number(x), Number(y), 10).padStart(15, '0').slice(-reference!.length)).toBe(reference)
  }
})

test('the npm package mgrs 2.2 agrees but for the last figure, which its short series leaves open', () => {
  const inUtm = fc.double({ min: -79.9, max: 83.9, noNaN: true })
  fc.assert(
    fc.property(lon, inUtm, (x, y) => {
      const theirs = forward([x, y], 5)
      const ours = formatMgrs(x, y, 10)
      const cut = theirs.length - 10
      fc.pre(theirs.slice(0, cut) === ours.slice(0, cut))
      expect(
        Math.abs(Number(theirs.slice(cut, cut + 5)) - Number(ours.slice(cut, cut + 5))),
      ).toBeLessThanOrEqual(1)
      expect(Math.abs(Number(theirs.slice(cut + 5)) - Number(ours.slice(cut + 5)))).toBeLessThanOrEqual(1)
    }),
    { numRuns: 1000 },
  )
})

test('the square of a reference holds the place, and is the reference again', () => {
  fc.assert(
    fc.property(lon, lat, digits, (x, y, n) => {
      const reference = formatMgrs(x, y, n)
      const square = parseMgrs(reference)
      const pair = Float64Array.of(x, y)
      planarGrid(square.epsg, null).forward(pair, pair)
      const [east, north] = [pair[0]! - square.easting, pair[1]! - square.northing]
      expect(Math.min(east, north)).toBeGreaterThan(-1e-6)
      expect(Math.max(east, north)).toBeLessThan(square.size + 1e-6)
      expect(parseMgrs(reference.toLowerCase())).toEqual(square)
    }),
    { numRuns: 2000 },
  )
})

test('a coarser reference contains the finer', () => {
  fc.assert(
    fc.property(lon, lat, digits, digits, (x, y, one, other) => {
      const coarse = formatMgrs(x, y, Math.min(one, other))
      const fine = parseMgrs(formatMgrs(x, y, Math.max(one, other)))
      const outer = parseMgrs(coarse)
      expect(fine.epsg).toBe(outer.epsg)
      expect(fine.easting).toBeGreaterThanOrEqual(outer.easting)
      expect(fine.easting + fine.size).toBeLessThanOrEqual(outer.easting + outer.size + 1e-9)
      expect(fine.northing).toBeGreaterThanOrEqual(outer.northing)
      expect(fine.northing + fine.size).toBeLessThanOrEqual(outer.northing + outer.size + 1e-9)
    }),
    { numRuns: 1000 },
  )
})

test('the widened zones of Norway and Svalbard', () => {
  expect(utmZone(4, 60)).toBe(32)
  expect(utmZone(2.9, 60)).toBe(31)
  expect([8.9, 9, 20.9, 21, 32.9, 33, 41.9, 42].map((x) => utmZone(x, 78))).toEqual([
    31, 33, 33, 35, 35, 37, 37, 38,
  ])
  expect([-180, 180, 179.999, 540].map((x) => utmZone(x, 0))).toEqual([1, 1, 60, 1])
})

test.each([
  ['30UXI1234', 'names no square'],
  ['30UAC1234', 'names no square'],
  ['30UXW', 'does not lie in 30U'],
  ['32XMH', 'no such zone and band'],
  ['61UXC', 'no such zone and band'],
  ['30IXC', 'no such zone and band'],
  ['30UXC123', 'an odd number of figures (3)'],
  ['30UXC 12 345', 'an odd number of figures (5)'],
  ['AAA12', 'names no square'],
  ['ZXZ12', 'names no square'],
  ['30U', 'zone, band and two letters come first'],
])('%s is refused in one sentence', (text, part) => {
  expect(() => parseMgrs(text)).toThrow(
    expect.objectContaining({ code: 'bad-coordinate', message: expect.stringContaining(part) }),
  )
})

test('a square read in the south counts its northing from ten million', () => {
  const square = parseMgrs('56HLH3487352266')
  expect(square).toEqual({ epsg: 32_756, easting: 334_873, northing: 6_252_266, size: 1 })
  const [x, y] = unprojectPoint(planarGrid(32_756, null), 334_873, 6_252_266)
  expect(formatMgrs(x + 1e-7, y + 1e-7, 10)).toBe('56HLH3487352266')
})
