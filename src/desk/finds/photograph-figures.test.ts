import { expect, test } from 'vitest'
import type { PhotographView } from '#contract'
import { figureText } from './photograph-figures.ts'

const photograph: PhotographView = {
  id: 1,
  name: 'a.jpg',
  role: 'obverse',
  note: null,
  width: 900,
  height: 600,
  takenAt: null,
  mmPerPixel: 0.1,
  scaleLine: [0, 0, 500, 0, 50],
  found: true,
}

test('lengths and areas come with their error', () => {
  // 100 pixels at 0.1 mm; two clicks of 1 pixel each: sqrt(2) x 0.1 mm, and the scale's sqrt(2)/500 of 10 mm.
  expect(
    figureText(
      'length',
      [
        [0, 0],
        [100, 0],
      ],
      photograph,
    ),
  ).toBe('10.00 ± 0.14 mm')
  expect(
    figureText(
      'area',
      [
        [0, 0],
        [100, 0],
        [100, 100],
        [0, 100],
      ],
      photograph,
    ),
  ).toMatch(/^100\.0 ± 1\.\d mm²$/)
})

test('nothing is said without a scale or with too few points', () => {
  expect(
    figureText(
      'length',
      [
        [0, 0],
        [30, 40],
      ],
      { ...photograph, scaleLine: null },
    ),
  ).toBe('')
  expect(
    figureText(
      'area',
      [
        [0, 0],
        [30, 40],
      ],
      photograph,
    ),
  ).toBe('')
})
