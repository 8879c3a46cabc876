import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { ostn15 } from '#work'
import { lineBetween, placeOf } from './places.ts'

const national = planarGrid(27_700, ostn15())
const today = new Date('2026-11-25T12:00:00Z')

test('a reference is found at the middle of its square', () => {
  expect(placeOf('TF 584 475', national)).toMatchObject({
    easting: expect.closeTo(558_450, 2),
    northing: expect.closeTo(347_550, 2),
    gridRef: 'TF 584 475',
    precisionM: 100,
    usualEpsg: 27_700,
  })
})

test('a square is drawn by its corners, and told by its middle in every notation', () => {
  const { square, lat, lon, utm } = placeOf('TF 584 475', national)
  expect(square).toEqual([
    [558_400, 347_500],
    [558_500, 347_500],
    [558_500, 347_600],
    [558_400, 347_600],
    [558_400, 347_500],
  ])
  const toMetres = (text: string) => text.replaceAll(/\d+\.\d+/g, (figure) => Number(figure).toFixed(0))
  expect(utm).toBe(toMetres(placeOf(`${lat}, ${lon}`, national).utm))
  expect(placeOf('52.99711, 0.35982', national).square).toBeNull()
  expect(placeOf('TF 584 475', null).square).toBeNull()
})

test('a square of another grid lies aslant in the survey’s', () => {
  const { square, mgrs, easting, northing } = placeOf('31U CU 2271 7531', national)
  expect(mgrs).toBe('31UCU22717531')
  // 10 m along UTM's easting, turned by the difference of the convergences (some 3.5 degrees here): both are exact to 0.1 %.
  const [[x1 = 0, y1 = 0] = [], [x2 = 0, y2 = 0] = []] = square ?? []
  expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(10, 1)
  expect(Math.abs(y2 - y1)).toBeGreaterThan(0.3)
  const middle = [0, 1].map((axis) => ((square?.[0]?.[axis] ?? 0) + (square?.[2]?.[axis] ?? 0)) / 2)
  expect(middle[0]).toBeCloseTo(easting ?? 0, 2)
  expect(middle[1]).toBeCloseTo(northing ?? 0, 2)
})

test('plain eastings and northings are in the survey’s grid', () => {
  const place = placeOf('299500 5874000', planarGrid(32_631, null))
  expect(place.easting).toBeCloseTo(299_500, 0)
  expect(place.northing).toBeCloseTo(5_874_000, 0)
})

test('a place that the grid does not reach is still a place', () => {
  expect(placeOf('45.3, 14.1', national)).toMatchObject({ easting: null, northing: null, usualEpsg: 32_633 })
  expect(placeOf('45.3, 14.1', null)).toMatchObject({ easting: null, usualEpsg: 32_633 })
})

test('what is no place is said', () => {
  expect(() => placeOf('over there', national)).toThrow('no coordinate')
})

test('a line due grid north: its true bearing is the convergence, its ground length the grid’s less the scale', () => {
  const line = lineBetween([558_000, 347_000], [558_000, 348_000], national, today)
  expect(line).toMatchObject({ gridM: 1000, gridBearing: 0 })
  expect(line.trueBearing).toBeCloseTo(line.convergence, 2)
  // A compass points a little east of true north there in 2026: the model, held against NOAA's own values, says how much.
  expect(line.magnetic!.bearing).toBeCloseTo(line.trueBearing! - line.magnetic!.declination, 9)
  expect(line.magnetic).toMatchObject({ model: 'WMM2025' })
  // Scale factor 0.9996 (1 + (E - 400 km)^2 / 2 R^2) at 558 km E, by A guide to coordinate systems in Great Britain, is 0.99991.
  expect(line.groundM).toBeCloseTo(1000 / 0.999_91, 1)
})

test('from a place to itself there is no bearing', () => {
  const line = lineBetween([558_000, 347_000], [558_000, 347_000], national, today)
  expect(line).toMatchObject({ groundM: 0, gridM: 0, gridBearing: null, trueBearing: null })
})
