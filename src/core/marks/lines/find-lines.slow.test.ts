import { expect, test } from 'vitest'
import { makeScene } from '../../../../bench/scenes/scene.ts'
import { drawnDitches } from '../../../../test/marks/drawn-lines.ts'
import { findLines, type LineSettings } from '../index.ts'

const settings: LineSettings = {
  minWidthPx: 1.5,
  maxWidthPx: 6,
  leastLengthPx: 16,
  tone: 'either',
  most: 500,
}
const [side, images] = [480, 6]

/**
 * By definition: of a rate of r a million pixels r times the area is expected; bounds hold 99.8 % of Poisson counts (3.09 roots and half a count). The rate itself is
 * counted on surrogates of a million pixels, so its own Poisson error is added.
 */
test.each([
  ['white', (seed: number) => drawnDitches(side, [], 5, seed)],
  [
    'coloured',
    (seed: number) => makeScene('plain', seed, { side, rings: 0, broken: 0, confusers: false }).raster,
  ],
])(
  '%s ground without lines gives as many candidates as their figures say',
  (_, ground) => {
    const area = (images * side * side) / 1e6
    const rates: number[] = []
    for (let i = 0; i < images; i++)
      for (const { falseAlarmsPerMpx } of findLines(ground(4000 + i), settings)) rates.push(falseAlarmsPerMpx)
    for (const rate of [1, 10, 40]) {
      const count = rates.filter((each) => each <= rate).length
      const mean = rate * area
      expect(Math.abs(count - mean)).toBeLessThanOrEqual(3.09 * Math.sqrt(2 * mean) + 0.5)
    }
  },
  300_000,
)
