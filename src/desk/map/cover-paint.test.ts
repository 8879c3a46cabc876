import { expect, test } from 'vitest'
import { passColours } from '#contract'
import { repaintCover } from './cover-paint.ts'

const ramp = [
  [10, 0, 0],
  [20, 0, 0],
  [30, 0, 0],
  [40, 0, 0],
]

test('each step takes its colour and keeps its opacity, even when the canvas has blurred it', () => {
  const pixels = new Uint8ClampedArray(
    passColours.flatMap(({ rgb: [r, g, b] }, i) => [r + 4, g - 3, b + 2, 60 + i]),
  )
  repaintCover(pixels, ramp)
  expect([...pixels]).toEqual([10, 0, 0, 60, 20, 0, 0, 61, 30, 0, 0, 62, 40, 0, 0, 63])
})

test('a clear pixel stays clear', () => {
  const pixels = new Uint8ClampedArray(4)
  repaintCover(pixels, ramp)
  expect([...pixels]).toEqual([0, 0, 0, 0])
})
