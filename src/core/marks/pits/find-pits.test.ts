import { expect, test } from 'vitest'
import { drawnPits } from '../../../../test/marks/drawn-pits.ts'
import { findPits, type RingSettings } from '../index.ts'

const settings: RingSettings = { minDiameterPx: 4, maxDiameterPx: 24, tone: 'dark', most: 200 }

const pits = [
  { x: 60.3, y: 71.6, sigma: 2 },
  { x: 150.7, y: 80.2, sigma: 4 },
  { x: 110.4, y: 180.1, sigma: 7 },
]
const noisy = drawnPits(256, pits, 5)
const off = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y)

// Expected by construction. A Gaussian blob of standard deviation s answers most at sigma = s (Lindeberg 1998), so its diameter is 2 sqrt 2 s.
test('pits on noise are where they were drawn, as wide, and before all else', () => {
  const best = findPits(noisy, settings).slice(0, 3)
  for (const pit of pits) {
    const near = best.find((each) => off(each, pit) < 0.5)
    expect(near).toMatchObject({ tone: 'dark' })
    // The grain and the square pixels move the best scale by up to half a step of it, 12 %, and flattening narrows the widest.
    expect(Math.abs(near!.diameter / (2 * Math.SQRT2 * pit.sigma) - 1)).toBeLessThan(0.25)
    expect(near!.falseAlarmsPerMpx).toBeLessThan(0.1)
  }
})

test('a quarter turn of the image turns what is found', () => {
  const values = new Float32Array(noisy.values.length)
  for (let row = 0; row < 256; row++)
    for (let column = 0; column < 256; column++)
      values[column * 256 + 255 - row] = noisy.values[row * 256 + column]!
  const turned = findPits({ ...noisy, values }, settings)
  for (const { x, y } of findPits(noisy, settings).slice(0, 3))
    expect(turned.slice(0, 3).some((each) => off(each, { x: 256 - y, y: x }) < 0.01)).toBe(true)
})

test.each([
  [1, 5000],
  [20, 0],
  [0.001, 0],
])('values times %d and plus %d give the same', (times, plus) => {
  const changed = findPits({ ...noisy, values: noisy.values.map((v) => v * times + plus) }, settings)
  findPits(noisy, settings)
    .slice(0, 3)
    .forEach((pit, i) => {
      expect(off(pit, changed[i]!)).toBeLessThan(0.05)
    })
})

test('light and dark change places when the image is turned over', () => {
  const [plain] = findPits(noisy, settings)
  const values = noisy.values.map((value) => -value)
  const [light] = findPits({ ...noisy, values }, { ...settings, tone: 'either' })
  expect(light!.tone).toBe('light')
  expect(off(light!, plain!)).toBeLessThan(0.01)
})

test('a ditch and the edge of a field are no pits', () => {
  const raster = drawnPits(256, [], 3)
  for (let row = 0; row < 256; row++) {
    for (let column = 0; column < 256; column++) {
      const line = Math.exp(-((column - 80 - row * 0.3) ** 2) / 18)
      raster.values[row * 256 + column]! -= 30 * line + (column > 200 ? 40 : 0)
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

test('a range that cannot be looked for is refused', () => {
  for (const [minDiameterPx, maxDiameterPx] of [
    [2, 10],
    [20, 10],
    [5, Number.NaN],
  ] as const)
    expect(() => findPits(noisy, { ...settings, minDiameterPx, maxDiameterPx })).toThrow(RangeError)
})
