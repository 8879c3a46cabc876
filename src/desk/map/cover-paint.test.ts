import { expect, test } from 'vitest'
import { greyPerStep, passSteps } from '#contract'
import { paintSteps } from './cover-paint.ts'

const ramp = [
  [10, 0, 0],
  [20, 0, 0],
  [30, 0, 0],
  [40, 0, 0],
]

test('each step takes its colour, even when the canvas has blurred its grey', () => {
  const steps = Array.from({ length: passSteps }, (_, i) => greyPerStep * (i + 1))
  const pixels = new Uint8ClampedArray(steps.flatMap((grey, i) => [grey + 9 - 6 * i, grey, grey, 100]))
  paintSteps(pixels, ramp, greyPerStep)
  expect([...pixels]).toEqual([10, 0, 0, 80, 20, 0, 0, 80, 30, 0, 0, 80, 40, 0, 0, 80])
})

test('a clear pixel stays clear', () => {
  const pixels = new Uint8ClampedArray(4)
  paintSteps(pixels, ramp, greyPerStep)
  expect([...pixels]).toEqual([0, 0, 0, 0])
})
