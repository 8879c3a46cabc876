import { expect, test } from 'vitest'
import { figureText, pixelArea, pixelLength } from './photograph-figures.ts'

test('lengths and areas by the scale', () => {
  expect(
    pixelLength([
      [0, 0],
      [30, 40],
    ]),
  ).toBe(50)
  expect(
    pixelArea([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ]),
  ).toBe(100)
  expect(
    figureText(
      'length',
      [
        [0, 0],
        [30, 40],
      ],
      0.25,
    ),
  ).toBe('12.5 mm')
  expect(
    figureText(
      'area',
      [
        [0, 0],
        [10, 0],
        [0, 10],
      ],
      0.5,
    ),
  ).toBe('12.5 mm²')
})

test('nothing is said without a scale or with too few points', () => {
  expect(
    figureText(
      'length',
      [
        [0, 0],
        [30, 40],
      ],
      null,
    ),
  ).toBe('')
  expect(
    figureText(
      'area',
      [
        [0, 0],
        [30, 40],
      ],
      1,
    ),
  ).toBe('')
})
