import { expect, test } from 'vitest'
import { drawnPits } from '../../../../test/marks/drawn-pits.ts'
import { findPits, type RingSettings } from '../index.ts'

const settings: RingSettings = { minDiameterPx: 5, maxDiameterPx: 20, tone: 'dark', most: 200 }

const side = 200
const pits = [
  { x: 50.3, y: 61.6, sigma: 2 },
  { x: 130.7, y: 60.2, sigma: 4 },
  { x: 90.4, y: 140.1, sigma: 6 },
]
const noisy = drawnPits(side, pits, 5)
const found = findPits(noisy, settings)
const off = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y)

// Expected by construction. A Gaussian blob of standard deviation s answers most at sigma = s (Lindeberg 1998), so its diameter is 2 sqrt 2 s.
test('pits on noise are where they were drawn, as wide, and before all else', () => {
  const best = found.slice(0, 3)
  for (const pit of pits) {
    const near = best.find((each) => off(each, pit) < 0.5)
    expect(near).toMatchObject({ tone: 'dark' })
    // The grain and the square pixels move the best scale by up to half a step of it, 12 %, and flattening narrows the widest.
    expect(Math.abs(near!.diameter / (2 * Math.SQRT2 * pit.sigma) - 1)).toBeLessThan(0.25)
    expect(near!.falseAlarmsPerMpx).toBeLessThan(0.1)
  }
})

test('the pieces that an image is done in do not matter', () => {
  const pieces = findPits(noisy, settings, { columns: 70, rows: 50 })
  // Running sums that start elsewhere round otherwise, so that one just at the least contrast may come or go.
  const worth = (all: typeof found) => all.filter(({ contrast }) => contrast > 3.01)
  expect(worth(pieces)).toHaveLength(worth(found).length)
  worth(pieces).forEach((piece, i) => {
    expect(off(piece, found[i]!)).toBeLessThan(0.001)
    expect(Math.abs(piece.contrast - found[i]!.contrast)).toBeLessThan(0.001)
    expect(Math.abs(piece.falseAlarmsPerMpx / found[i]!.falseAlarmsPerMpx - 1)).toBeLessThan(0.01)
  })
})

test('a quarter turn of the image turns what is found', () => {
  const values = new Float32Array(noisy.values.length)
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      values[column * side + side - 1 - row] = noisy.values[row * side + column]!
  const turned = findPits({ ...noisy, values }, settings)
  for (const { x, y } of found.slice(0, 3))
    expect(turned.slice(0, 3).some((each) => off(each, { x: side - y, y: x }) < 0.01)).toBe(true)
})

test.each([
  [1, 5000],
  [0.02, 0],
])('values times %d and plus %d give the same', (times, plus) => {
  const changed = findPits({ ...noisy, values: noisy.values.map((v) => v * times + plus) }, settings)
  found.slice(0, 3).forEach((pit, i) => {
    expect(off(pit, changed[i]!)).toBeLessThan(0.05)
  })
})

test('light and dark change places when the image is turned over', () => {
  const values = noisy.values.map((value) => -value)
  const [light] = findPits({ ...noisy, values }, { ...settings, tone: 'either' })
  expect(light!.tone).toBe('light')
  expect(off(light!, found[0]!)).toBeLessThan(0.01)
})

test('a ditch and the edge of a field are no pits', () => {
  const raster = drawnPits(side, [], 3)
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const line = Math.exp(-((column - 50 - row * 0.3) ** 2) / 18)
      raster.values[row * side + column]! -= 30 * line + (column > 150 ? 40 : 0)
    }
  }
  for (const { falseAlarmsPerMpx } of findPits(raster, settings))
    expect(falseAlarmsPerMpx).toBeGreaterThan(0.1)
})

test('nothing comes of even ground, of no data, or of no pixels to speak of', () => {
  const even = { columns: 64, rows: 64, values: new Float32Array(64 * 64).fill(7) }
  expect(findPits(even, settings)).toEqual([])
  expect(findPits({ ...even, values: even.values.map(() => Number.NaN) }, settings)).toEqual([])
  expect(findPits({ columns: 0, rows: 0, values: new Float32Array(0) }, settings)).toEqual([])
})

test('a strip narrower than any transform is looked at as well', () => {
  const strip = drawnPits(200, [{ x: 7.5, y: 100, sigma: 1.4 }], 8)
  const columns = 15
  const values = Float32Array.from({ length: columns * 200 }, (_, i) => {
    const row = Math.floor(i / columns)
    return strip.values[row * 200 + (i % columns)]!
  })
  const [best] = findPits({ columns, rows: 200, values }, { ...settings, minDiameterPx: 4, maxDiameterPx: 8 })
  expect(off(best!, { x: 7.5, y: 100 })).toBeLessThan(1)
  expect(best!.falseAlarmsPerMpx).toBeGreaterThan(0)
})

test('a range that cannot be looked for is refused', () => {
  for (const [minDiameterPx, maxDiameterPx] of [
    [2, 10],
    [20, 10],
    [5, Number.NaN],
  ] as const)
    expect(() => findPits(noisy, { ...settings, minDiameterPx, maxDiameterPx })).toThrow(RangeError)
})
