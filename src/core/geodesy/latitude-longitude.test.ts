import fc from 'fast-check'
import { expect, test } from 'vitest'
import { formatLatLon, parseLatLon } from './latitude-longitude.ts'

const lat = fc.double({ min: -90, max: 90, noNaN: true })
const lon = fc.double({ min: -180, max: 180, noNaN: true })

// One place, the water tower of Ordnance Survey's worked example (its OSGB36 figures), in spellings met in the field.
const degrees = { lat: 52 + 39 / 60 + 27.2531 / 3600, lon: 1 + 43 / 60 + 4.5177 / 3600 }

test.each([
  '52 39 27.2531 N 1 43 4.5177 E',
  '52 39 27.2531N, 1 43 4.5177E',
  'N 52 39 27.2531 E 1 43 4.5177',
  '52 39 27.2531, 1 43 4.5177',
  '52 39 27.2531 1 43 4.5177',
  '+52 39 27.2531 +1 43 4.5177',
  `52°39'27.2531"N 1°43'4.5177"E`,
  `52° 39' 27.2531" N, 001° 43' 04.5177" E`,
  '52°39′27.2531″N 1°43′4.5177″E',
  '52º39’27.2531”N / 1º43’4.5177”E',
  `52°39'27.2531''N 1°43'4.5177''E`,
  '52d39m27.2531s N 1d43m4.5177s E',
  `52d39'27.2531"N 1d43'4.5177"E`,
  '52 deg 39 min 27.2531 sec North, 1 deg 43 min 4.5177 sec East',
  'Latitude: 52 39 27.2531 Longitude: 1 43 4.5177',
  'lon 1 43 4.5177 lat 52 39 27.2531',
  '1 43 4.5177 E 52 39 27.2531 N',
  '523927.2531N 0014304.5177E',
  'N523927.2531 E0014304.5177',
  '+523927.2531+0014304.5177/',
])('%s', (text) => {
  const read = parseLatLon(text)!
  expect(read.lat).toBeCloseTo(degrees.lat, 12)
  expect(read.lon).toBeCloseTo(degrees.lon, 12)
  expect(read.latStep).toBeCloseTo(1e-4 / 3600, 15)
  expect(read.warnings).toEqual([])
})

test.each([
  ['52.657570, 1.717921', 52.65757, 1.717921],
  ['52.657570 -1.717921', 52.65757, -1.717921],
  ['52.65757\u00b0N 1.717921\u00b0W', 52.65757, -1.717921],
  ['\u221233.8570 151.2150', -33.857, 151.215],
  ['33.857S 151.215E', -33.857, 151.215],
  ['S33.857 W070.5', -33.857, -70.5],
  ['geo:52.65757,1.717921;u=12', 52.65757, 1.717921],
  ['+52.65757+001.717921/', 52.65757, 1.717921],
  ['52 39.4542 N 1 43.0753 W', 52.65757, -1.717_921_666_666_7],
  ['5239.4542N 00143.0753W', 52.65757, -1.717_921_666_666_7],
  ['51 -0 30 0', 51, -0.5],
  ['0 0', 0, 0],
  ['.5 .5', 0.5, 0.5],
])('%s', (text, y, x) => {
  const read = parseLatLon(text)!
  expect(read.lat).toBeCloseTo(y, 11)
  expect(read.lon).toBeCloseTo(x, 11)
})

test('degrees, minutes and seconds written and read again are the same to the last figure written', () => {
  fc.assert(
    fc.property(lat, lon, fc.integer({ min: 0, max: 5 }), (y, x, decimals) => {
      const text = formatLatLon(y, x, decimals)
      const read = parseLatLon(text)!
      const half = 0.5 / 3600 / 10 ** decimals + 1e-12
      expect(Math.abs(read.lat - y)).toBeLessThanOrEqual(half)
      expect(Math.abs(read.lon - x)).toBeLessThanOrEqual(half)
      expect(formatLatLon(read.lat, read.lon, decimals)).toBe(text)
      expect(text).not.toMatch(/[°']60/)
    }),
    { numRuns: 2000, examples: [[59.999_999_999_9, -0.999_999_999_9, 3]] },
  )
})

test('decimal degrees written by any program are read as they stand', () => {
  fc.assert(
    fc.property(lat, lon, (y, x) => {
      const read = parseLatLon(`${y.toFixed(9)}, ${x.toFixed(9)}`)!
      expect([read.lat, read.lon]).toEqual([Number(y.toFixed(9)), Number(x.toFixed(9))])
    }),
  )
})

test('swapped pairs are said to be so', () => {
  expect(parseLatLon('151.2, -33.8')).toMatchObject({ lat: -33.8, lon: 151.2 })
  expect(parseLatLon('151.2, -33.8')!.warnings[0]).toContain('look swapped')
  expect(parseLatLon('-1.5 53.2')).toMatchObject({ lat: -1.5, lon: 53.2 })
  expect(parseLatLon('-1.5 53.2')!.warnings[0]).toContain('look swapped')
  expect(parseLatLon('1.5S 53.2E')!.warnings).toEqual([])
  expect(parseLatLon('52.6N 358.5E')).toMatchObject({
    lon: -1.5,
    warnings: ['Longitude 358.5 was read as -1.5.'],
  })
})

test.each([
  ['52,6576 1,7161', 'commas inside its numbers'],
  ['52,6576; 1,7161', 'commas inside its numbers'],
  [`52°39,5'N 1°43,1'E`, 'commas inside its numbers'],
  ['52.6576', 'one angle'],
  ['1 2 3, 5, 6', '3 angles'],
  ['52 61 0 N 1 0 0 E', '61 minutes'],
  ['52 0 60 N 1 0 0 E', '60 seconds'],
  ['52.5 30 N 1 0 E', 'decimals before its last figure'],
  [`52' 30" 1' N 1 0 E`, 'out of order'],
  ['1 2 3 4 N 5 E', 'out of order'],
  ['95 N 1 E', 'the poles are at 90 degrees'],
  ['52 N 400 E', 'the circle has 360 degrees'],
  ['52 N 53 N', 'gives latitude twice'],
  ['-52 N 1 E', 'both a sign and the letter N'],
  ['lat 52 E lon 1', 'both latitude and E'],
])('%s is refused in one sentence', (text, part) => {
  expect(() => parseLatLon(text)).toThrow(
    expect.objectContaining({ code: 'bad-coordinate', message: expect.stringContaining(part) }),
  )
})

test.each(['hello', 'TG 514 131', '52.6 x 1.7', '', `"52`])(
  '%j is no latitude and longitude at all',
  (text) => {
    expect(parseLatLon(text)).toBeNull()
  },
)
