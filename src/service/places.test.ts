import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { ostn15 } from '#work'
import { lineBetween, placeOf } from './places.ts'

const national = planarGrid(27_700, ostn15())

test('a reference is found at the middle of its square', () => {
  expect(placeOf('TF 584 475', national)).toMatchObject({
    easting: expect.closeTo(558_450, 2),
    northing: expect.closeTo(347_550, 2),
    gridRef: 'TF 584 475',
    precisionM: 100,
    usualEpsg: 27_700,
  })
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
  const line = lineBetween([558_000, 347_000], [558_000, 348_000], national)
  expect(line).toMatchObject({ gridM: 1000, gridBearing: 0 })
  expect(line.trueBearing).toBeCloseTo(line.convergence, 2)
  // Scale factor 0.9996 (1 + (E - 400 km)^2 / 2 R^2) at 558 km E, by A guide to coordinate systems in Great Britain, is 0.99991.
  expect(line.groundM).toBeCloseTo(1000 / 0.999_91, 1)
})

test('from a place to itself there is no bearing', () => {
  const line = lineBetween([558_000, 347_000], [558_000, 347_000], national)
  expect(line).toMatchObject({ groundM: 0, gridM: 0, gridBearing: null, trueBearing: null })
})
