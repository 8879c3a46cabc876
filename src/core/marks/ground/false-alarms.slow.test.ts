import { expect, test } from 'vitest'
import { makeScene } from '../../../../bench/scenes/scene.ts'
import { findRings } from '../index.ts'

/**
 * By definition: on ground without rings, of a rate of r a million pixels r times the area is expected. The bounds hold 99.8 % of Poisson counts (mean plus
 * and minus 3.09 roots of it, and half a count); seeds are fixed. Pixels of 0.5 m: one a million pixels is 4 a square kilometre.
 */
test('ground without rings gives as many candidates as their figures say', () => {
  const [side, images] = [600, 8]
  const area = (images * side * side) / 1e6
  const rates: number[] = []
  for (let i = 0; i < images; i++) {
    const { raster } = makeScene('plain', 3000 + i, { side, rings: 0, broken: 0, confusers: false })
    const found = findRings(raster, { minDiameterPx: 16, maxDiameterPx: 80, tone: 'dark', most: 200 })
    for (const { falseAlarmsPerMpx } of found) rates.push(falseAlarmsPerMpx)
  }
  for (const rate of [0.1, 1, 4, 12]) {
    const count = rates.filter((each) => each <= rate).length
    const mean = rate * area
    const reach = 3.09 * Math.sqrt(mean) + 0.5
    expect(count).toBeGreaterThanOrEqual(Math.floor(mean - reach))
    expect(count).toBeLessThanOrEqual(Math.ceil(mean + reach))
  }
}, 300_000)
