import { expect, test } from 'vitest'
import { drawnRings } from '../../../../test/marks/drawn-ring.ts'
import { findRings, type Raster, type RingSettings } from '../index.ts'

const settings = (radius: number): RingSettings => ({
  minDiameterPx: Math.max(4, radius),
  maxDiameterPx: 3 * radius,
  tone: 'dark',
  most: 5,
})

// Expected by construction: what was drawn, within a quarter of a pixel and 2 %.
test.each([
  { x: 100.3, y: 97.6, radius: 8, width: 2 },
  { x: 99.5, y: 103.1, radius: 21.7, width: 3.3 },
  { x: 102.25, y: 98.75, radius: 37.2, width: 4 },
])('a ring of radius $radius on even ground is where it was drawn', (ring) => {
  const [best] = findRings(drawnRings(200, [ring]), settings(ring.radius))
  expect(Math.hypot(best!.x - ring.x, best!.y - ring.y)).toBeLessThan(0.25)
  expect(Math.abs(best!.diameter / (2 * ring.radius) - 1)).toBeLessThan(0.02)
  expect(best).toMatchObject({ completeness: 1, tone: 'dark', gaps: [] })
})

const broken = { x: 121.3, y: 133.8, radius: 18, width: 3, gap: [90, 210] as const, depth: 25 }
const noisy = drawnRings(256, [broken], 10)
const [plain] = findRings(noisy, settings(18))

test('a third of the arc may be missing, and its bearings are told', () => {
  expect(Math.hypot(plain!.x - broken.x, plain!.y - broken.y)).toBeLessThan(1)
  expect(Math.abs(plain!.completeness - 2 / 3)).toBeLessThan(0.1)
  expect(plain!.gaps).toHaveLength(1)
  // Arcs are 15 degrees, and each is smoothed with its neighbours.
  expect(Math.abs(plain!.gaps[0]!.fromDeg - 90)).toBeLessThanOrEqual(15)
  expect(Math.abs(plain!.gaps[0]!.toDeg - 210)).toBeLessThanOrEqual(15)
})

/** A quarter turn clockwise. */
function quarterTurned({ columns, rows, values }: Raster): Raster {
  const out = new Float32Array(values.length)
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      out[column * rows + rows - 1 - row] = values[row * columns + column]!
  return { columns: rows, rows: columns, values: out }
}

test('a quarter turn of the image turns what is found', () => {
  const [turned] = findRings(quarterTurned(noisy), settings(18))
  // The ground is sampled at other places, so its noise is judged otherwise, and the fit settles elsewhere within that noise.
  expect(Math.abs(turned!.x - (256 - plain!.y))).toBeLessThan(0.5)
  expect(Math.abs(turned!.y - plain!.x)).toBeLessThan(0.5)
  expect(Math.abs(turned!.diameter / plain!.diameter - 1)).toBeLessThan(0.01)
  expect(turned!.gaps[0]!.fromDeg - plain!.gaps[0]!.fromDeg).toBe(90)
})

test.each([
  ['brighter', 1, 5000],
  ['of twenty times the contrast', 20, 0],
  ['of a thousandth of the contrast', 0.001, 0],
])('an image that is %s gives the same', (_, times, plus) => {
  const values = noisy.values.map((value) => value * times + plus)
  const [changed] = findRings({ ...noisy, values }, settings(18))
  // Numbers of 24 bits: what is added to them takes some of the last away.
  expect(Math.hypot(changed!.x - plain!.x, changed!.y - plain!.y)).toBeLessThan(0.1)
  expect(Math.abs(changed!.diameter - plain!.diameter)).toBeLessThan(0.1)
  expect(changed!.gaps).toEqual(plain!.gaps)
})

test('light and dark change places when the image is turned over', () => {
  const negative = { ...noisy, values: noisy.values.map((value) => -value) }
  const [light] = findRings(negative, { ...settings(18), tone: 'either' })
  expect(light).toMatchObject({ tone: 'light', x: plain!.x, y: plain!.y, diameter: plain!.diameter })
})

test('the pieces that an image is done in do not matter', () => {
  const rings = [
    { x: 150.2, y: 149.6, radius: 12, width: 3, depth: 25 },
    { x: 60, y: 200, radius: 30, width: 4, depth: 25 },
    { x: 230, y: 80, radius: 16, width: 3, gap: [0, 130] as const, depth: 25 },
  ]
  const raster = drawnRings(300, rings, 10, 4)
  const wide: RingSettings = { minDiameterPx: 16, maxDiameterPx: 80, tone: 'dark', most: 50 }
  const whole = findRings(raster, wide)
  const pieces = findRings(raster, wide, { columns: 110, rows: 90 })
  // Transforms of other sizes round otherwise, so a fit to next to nothing may end elsewhere: those that anybody would look at do not.
  const worth = (all: typeof whole) => all.filter(({ score }) => score > 0.001)
  expect(worth(pieces)).toHaveLength(worth(whole).length)
  worth(pieces).forEach((piece, i) => {
    expect(Math.abs(piece.x - whole[i]!.x)).toBeLessThan(0.01)
    expect(Math.abs(piece.y - whole[i]!.y)).toBeLessThan(0.01)
    expect(Math.abs(piece.diameter - whole[i]!.diameter)).toBeLessThan(0.01)
    expect(Math.abs(piece.score - whole[i]!.score)).toBeLessThan(0.01)
  })
  for (const { x, y, radius } of rings) {
    const best = whole.slice(0, 3)
    expect(best.some((each) => Math.hypot(each.x - x, each.y - y) < 0.1 * radius)).toBe(true)
  }
})

test('missing data is no mark, and does not hide one', () => {
  const raster = drawnRings(256, [{ x: 121.3, y: 133.8, radius: 18, width: 3, depth: 25 }], 10)
  const values = raster.values.slice()
  for (let row = 0; row < 256; row++)
    for (let column = 0; column < 256; column++)
      if (column > 200 || row < 60) values[row * 256 + column] = Number.NaN
  const found = findRings({ ...raster, values }, { ...settings(18), most: 50 })
  expect(Math.hypot(found[0]!.x - broken.x, found[0]!.y - broken.y)).toBeLessThan(1)
  for (const { x, y, score } of found.slice(1)) expect(x > 180 && y < 80 ? score : 0).toBeLessThan(0.5)
})

test('nothing comes of even ground or of no data', () => {
  const even = { columns: 64, rows: 64, values: new Float32Array(64 * 64).fill(7) }
  expect(findRings(even, settings(8))).toEqual([])
  expect(findRings({ ...even, values: even.values.map(() => Number.NaN) }, settings(8))).toEqual([])
})

test('a range that cannot be looked for is refused', () => {
  const even = { columns: 64, rows: 64, values: new Float32Array(64 * 64) }
  for (const [from, to] of [
    [3, 10],
    [20, 10],
    [5, Number.NaN],
  ] as const) {
    expect(() => findRings(even, { minDiameterPx: from, maxDiameterPx: to, tone: 'dark', most: 1 })).toThrow(
      RangeError,
    )
  }
})
