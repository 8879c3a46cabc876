import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Crossing, dayLight, daylightLeft, siderealTime, sunInSky, sunPlace } from './index.ts'

const at = (text: string): number => Date.parse(text) / 1000
const minutesApart = (a: number, b: number): number => Math.abs(a - b) / 60

function crosses(crossing: Crossing): { rise: number; set: number } {
  if (crossing.kind !== 'crosses') throw new Error(`the sun is ${crossing.kind} all day`)
  return crossing
}

describe('Meeus, Astronomical Algorithms, 2nd edition 1998 (figures from memory)', () => {
  test('example 25.a: the sun on 13 October 1992, 0h TD', () => {
    const { rightAscension, declination } = sunPlace(2_448_908.5)
    expect(rightAscension).toBeCloseTo(198.38083, 4)
    expect(declination).toBeCloseTo(-7.78507, 4)
  })

  test('example 12.a: apparent sidereal time on 10 April 1987, 0h UT', () => {
    // 13h 10m 46.1351s; only the main term of nutation is in the code, the rest is up to 0.1 s.
    expect(siderealTime(2_446_895.5) / 15).toBeCloseTo(13 + 10 / 60 + 46.1351 / 3600, 4)
  })
})

describe('Reda and Andreas, Solar position algorithm, NREL/TP-560-34302 (2003, revised 2008), table A5.1 (figures from memory)', () => {
  // 17 October 2003, 12:30:30 seven hours behind UTC, 105.1786 W, 39.742476 N.
  const [lon, lat] = [-105.1786, 39.742476]

  test('altitude and azimuth', () => {
    const { altitude, azimuth } = sunInSky(at('2003-10-17T19:30:30Z'), lon, lat)
    // Theirs has parallax (0.002) in it; the form here is promised to 0.01 degrees.
    expect(Math.abs(altitude - 39.872046)).toBeLessThan(0.01)
    expect(Math.abs(azimuth - 194.340241)).toBeLessThan(0.01)
  })

  // Their times are those of the UT day of 17 October: the sunset in it is of the evening of the 16th at the place.
  test.each([
    ['2003-10-17', 'rise', '2003-10-17T13:12:43Z'],
    ['2003-10-16', 'set', '2003-10-17T00:20:19Z'],
  ] as const)('%s: sun%s at %s', (day, which, expected) => {
    const { sun } = dayLight(at(`${day}T00:00:00Z`), lon, lat)
    expect(minutesApart(crosses(sun)[which], at(expected))).toBeLessThan(0.2)
  })
})

// The Nautical Almanac's yearly tables for London, to the minute; from memory, so a minute is allowed for beside the rounding.
describe("London (51.507 N, 0.128 W): HM Nautical Almanac Office's sunrise and sunset, UTC (from memory)", () => {
  test.each([
    ['2024-06-20', '03:43', '20:21'],
    ['2024-12-21', '08:04', '15:53'],
    ['2024-03-20', '06:03', '18:14'],
  ])('%s: %s to %s', (day, rise, set) => {
    const { sun } = dayLight(at(`${day}T00:00:00Z`), -0.128, 51.507)
    expect(minutesApart(crosses(sun).rise, at(`${day}T${rise}:00Z`))).toBeLessThan(1.5)
    expect(minutesApart(crosses(sun).set, at(`${day}T${set}:00Z`))).toBeLessThan(1.5)
  })
})

// Printed to the minute in test 04basic.t of Astro-Sunrise (github.com/jforget/Astro-Sunrise) by Paul Schlyter's C program sunriset.c, at -0.833
// degrees; a minute is allowed beside the rounding, as that program takes one declination for the whole day.
describe("Paul Schlyter's sunriset.c, 2013, UTC", () => {
  const places = {
    Greenwich: [0, 51 + 28 / 60],
    Reykjavik: [-21 - 58 / 60, 64 + 4 / 60],
    Quito: [-78 - 35 / 60, -0.25],
  }
  test.each([
    ['Greenwich', '2013-01-01', '2013-01-01T08:05Z', '2013-01-01T16:02Z'],
    ['Greenwich', '2013-03-21', '2013-03-21T06:00Z', '2013-03-21T18:15Z'],
    ['Greenwich', '2013-06-21', '2013-06-21T03:43Z', '2013-06-21T20:21Z'],
    ['Reykjavik', '2013-01-01', '2013-01-01T11:18Z', '2013-01-01T15:45Z'],
    ['Reykjavik', '2013-03-21', '2013-03-21T07:24Z', '2013-03-21T19:46Z'],
    ['Reykjavik', '2013-06-21', '2013-06-21T02:57Z', '2013-06-22T00:02Z'],
    ['Quito', '2013-01-01', '2013-01-01T11:14Z', '2013-01-01T23:22Z'],
    ['Quito', '2013-03-21', '2013-03-21T11:18Z', '2013-03-21T23:25Z'],
  ] as const)('%s, %s: %s to %s', (place, day, rise, set) => {
    const [lon, lat] = places[place]
    const { sun } = dayLight(at(`${day}T00:00:00Z`), lon!, lat!)
    expect(minutesApart(crosses(sun).rise, at(rise))).toBeLessThan(1.5)
    expect(minutesApart(crosses(sun).set, at(set))).toBeLessThan(1.5)
  })
})

test('polar day and polar night are told', () => {
  const summer = dayLight(at('2026-06-21T00:00:00Z'), 18.96, 69.65)
  expect([summer.sun.kind, summer.civil.kind]).toEqual(['above', 'above'])
  const winter = dayLight(at('2026-12-21T00:00:00Z'), 18.96, 69.65)
  expect([winter.sun.kind, winter.civil.kind]).toEqual(['below', 'crosses'])
  const pole = dayLight(at('2026-12-21T00:00:00Z'), 0, 90)
  expect([pole.sun.kind, pole.civil.kind]).toEqual(['below', 'below'])
})

test('any day at any place: dawn, sunrise, noon, sunset and dusk come in that order', () => {
  const days = fc.integer({
    min: at('1990-01-01T00:00:00Z') / 86_400,
    max: at('2050-01-01T00:00:00Z') / 86_400,
  })
  const lons = fc.double({ min: -180, max: 180, noNaN: true })
  const lats = fc.double({ min: -65, max: 65, noNaN: true })
  fc.assert(
    fc.property(days, lons, lats, (day, lon, lat) => {
      const { noon, noonAltitude, sun, civil } = dayLight(day * 86_400, lon, lat)
      const { rise, set } = crosses(sun)
      expect(rise < noon && noon < set && set - rise < 86_400).toBe(true)
      expect(Math.abs(noon - (day * 86_400 + 43_200 - lon * 240))).toBeLessThan(17 * 60)
      expect(sunInSky(rise, lon, lat).altitude).toBeCloseTo(-50 / 60, 4)
      expect(sunInSky(set, lon, lat).altitude).toBeCloseTo(-50 / 60, 4)
      expect(noonAltitude).toBeGreaterThan(0)
      if (civil.kind === 'crosses') expect(civil.rise < rise && set < civil.set).toBe(true)
      else expect(civil.kind).toBe('above')
    }),
  )
})

test('daylight left runs from now, or from dawn, to dusk', () => {
  const light = dayLight(at('2026-11-25T00:00:00Z'), 0.35, 53)
  const { rise, set } = crosses(light.sun)
  expect(daylightLeft(rise - 3600, light).sunS).toBeCloseTo(set - rise, 6)
  expect(daylightLeft(set - 3600, light).sunS).toBeCloseTo(3600, 6)
  expect(daylightLeft(set + 1, light).sunS).toBe(0)
  expect(daylightLeft(set + 1, light).civilS).toBeGreaterThan(1800)
  const polar = dayLight(at('2026-06-21T00:00:00Z'), 18.96, 69.65)
  expect(daylightLeft(polar.noon, polar)).toEqual({ sunS: null, civilS: null })
})

test('wrong calls are refused', () => {
  expect(() => dayLight(Number.NaN, 0, 0)).toThrow(RangeError)
  expect(() => dayLight(0, 0, 91)).toThrow(RangeError)
})
