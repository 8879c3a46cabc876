import { expect, test } from 'vitest'
import { drawnPits } from '../../../../test/marks/drawn-pits.ts'
import { findPits, type RingSettings } from '../index.ts'

const settings: RingSettings = { minDiameterPx: 4, maxDiameterPx: 24, tone: 'dark', most: 200 }

/** By definition: of a rate of r a million pixels r times the area is expected; bounds hold 99.8 % of Poisson counts (3.09 roots and half a count). */
test('ground without pits gives as many candidates as their figures say', () => {
  const [side, images] = [400, 6]
  const area = (images * side * side) / 1e6
  const rates: number[] = []
  for (let i = 0; i < images; i++)
    for (const { falseAlarmsPerMpx } of findPits(drawnPits(side, [], 5, 100 + i), settings))
      rates.push(falseAlarmsPerMpx)
  for (const rate of [1, 10, 40]) {
    const count = rates.filter((each) => each <= rate).length
    const mean = rate * area
    expect(Math.abs(count - mean)).toBeLessThanOrEqual(3.09 * Math.sqrt(mean) + 0.5)
  }
})
