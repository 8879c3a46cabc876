import { expect, test } from 'vitest'
import type { FindspotView } from '#contract'
import { findText, matchesSearch, objectsText } from './find-text.ts'

const buckle = {
  number: 'NST-2025-014',
  object: 'buckle',
  material: 'copper alloy',
  period: 'medieval',
  count: 1,
  weightG: 12.4,
  depthM: 0.15,
}
const spot: FindspotView = {
  id: 1,
  name: 'F14',
  easting: 571_204,
  northing: 345_678,
  lat: 52.98,
  lon: 0.55,
  gridRef: 'TF 71204 45678',
  accuracyM: 3,
  time: null,
  note: 'by the droveway',
  finds: [buckle],
}

test('a find reads in one line and leaves out what is not known', () => {
  expect(findText(buckle)).toBe('NST-2025-014 buckle, copper alloy, medieval, 12.4 g, 15 cm deep')
  expect(
    findText({
      ...buckle,
      number: null,
      count: 3,
      material: null,
      period: null,
      weightG: null,
      depthM: null,
    }),
  ).toBe('buckle (3)')
})

test('a spot without finds shows a dash', () => {
  expect(objectsText(spot)).toBe('buckle')
  expect(objectsText({ ...spot, finds: [] })).toBe('–')
})

test('search looks in name, reference, note and finds, all words needed', () => {
  expect(matchesSearch(spot, 'droveway BUCKLE')).toBe(true)
  expect(matchesSearch(spot, 'tf 71204')).toBe(true)
  expect(matchesSearch(spot, 'buckle silver')).toBe(false)
  expect(matchesSearch(spot, '')).toBe(true)
})
