import { expect, test } from 'vitest'
import type { PlaceView } from '#contract'
import { openText, outsideText, placeFacts, placeName } from './place-words.ts'

const plain = (text: string): string => text.replaceAll('\u202f', ' ')

const square: PlaceView = {
  text: 'tf584475',
  lat: 52.997_114,
  lon: 0.359_821,
  easting: 558_450,
  northing: 347_550,
  square: [
    [558_400, 347_500],
    [558_500, 347_500],
    [558_500, 347_600],
    [558_400, 347_600],
    [558_400, 347_500],
  ],
  gridRef: 'TF 584 475',
  utm: '31N 322841 5875738',
  mgrs: '31UCU228757',
  dms: '52°59\'50"N 0°21\'35"E',
  precisionM: 100,
  accuracyM: 70.7,
  usualEpsg: 27_700,
  warnings: [],
}
const point: PlaceView = { ...square, square: null, precisionM: 1, accuracyM: 0.71 }
const far: PlaceView = { ...point, easting: null, northing: null, gridRef: null }
const grid = { epsg: 27_700, name: 'British National Grid', method: 'OSTN15', expectedErrorM: 0.1 }

test('a place reads in every notation and is copied with plain spaces', () => {
  const facts = placeFacts(square)
  expect(facts.map(({ name }) => name)).toEqual([
    'Grid reference',
    'Grid',
    'WGS84',
    'Degrees',
    'UTM',
    'MGRS',
    'Accuracy',
  ])
  expect(plain(facts[1]!.value)).toBe('558 450 E, 347 550 N')
  expect(facts.map(({ copy }) => copy)).toEqual([
    'TF 584 475',
    '558450 347550',
    '52.99711 N, 0.35982 E',
    '52°59\'50"N 0°21\'35"E',
    '31N 322841 5875738',
    '31UCU228757',
    undefined,
  ])
})

test('metres get a decimal only where the text is as fine', () => {
  expect(placeFacts(point)[1]!.copy).toBe('558450.0 347550.0')
})

test('what the text leaves open is a square or a radius', () => {
  expect(plain(openText(square))).toBe(
    'a square of 100 m; the figures are of its middle, 71 m from its corners',
  )
  expect(plain(openText({ ...square, precisionM: 1000, accuracyM: 707 }))).toBe(
    'a square of 1 km; the figures are of its middle, 707 m from its corners',
  )
  expect(plain(openText(point))).toBe('within 0.7 m, as it is written')
  expect(plain(openText({ ...point, accuracyM: 0.0007 }))).toBe('within less than 0.1 m, as it is written')
})

test('a place beyond the grid has no grid figures, and is said to lie outside', () => {
  expect(placeName(far)).toBe('52.99711 N, 0.35982 E')
  expect(placeFacts(far).map(({ name }) => name)).not.toContain('Grid')
  expect(outsideText(far, grid)).toContain('outside the survey’s grid, British National Grid')
  expect(outsideText(far, null)).toBeNull()
  expect(outsideText(square, grid)).toBeNull()
})
