import { expect, test } from 'vitest'
import { outlineText, placesFrom } from './places-text.ts'

test('places are written and read again', () => {
  const places: [number, number][] = [
    [558_400, 347_400.25],
    [558_410.5, 347_400],
    [558_410.5, 347_410],
  ]
  expect(placesFrom(outlineText(places, false), 2)).toEqual({ places })
  expect(placesFrom(outlineText([...places, places[0]!], true), 3)).toEqual({ places })
})

test('commas, empty lines and blanks about a line do no harm', () => {
  expect(placesFrom('\n 1, 2 \n\n3;4\n', 2)).toEqual({
    places: [
      [1, 2],
      [3, 4],
    ],
  })
})

test.each([
  ['1 2', 'Give at least 2 places.'],
  ['1 2\nx 4', 'Line 2 is not an easting and a northing, such as 558400 347400.'],
  ['1 2 3\n4 5', 'Line 1 is not an easting and a northing, such as 558400 347400.'],
])('%j: %s', (text, fault) => {
  expect(placesFrom(text, 2)).toEqual({ fault })
})
