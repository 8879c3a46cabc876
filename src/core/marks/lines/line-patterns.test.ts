import { expect, test } from 'vitest'
import { type DrawnDitch, drawnDitches, leg } from '../../../../test/marks/drawn-lines.ts'
import { drawnRings } from '../../../../test/marks/drawn-ring.ts'
import { findLines, type LineSettings } from '../index.ts'

const settings: LineSettings = {
  minWidthPx: 1.5,
  maxWidthPx: 4,
  leastLengthPx: 20,
  tone: 'dark',
  most: 100,
}
const side = 240

const corners: [number, number][] = [
  [60, 70],
  [150, 100],
  [130, 160],
  [40, 130],
]
const outline = corners.map((corner, i) => leg(corner, corners[(i + 1) % 4]!))
const rectangle: DrawnDitch['off'] = (x, y) => Math.min(...outline.map((off) => off(x, y)))

// Expected by construction.
test.each([
  ['whole', () => false, 6],
  // Where one side is all gone, how far the others went is not to be known.
  ['with a quarter missing', (x: number, y: number) => x > 115 && y > 95, 18],
] as const)('a rectangular enclosure is found %s, and stands for its sides', (_, missing, slack) => {
  const off: DrawnDitch['off'] = (x, y) => (missing(x, y) ? 1e9 : rectangle(x, y))
  const found = findLines(drawnDitches(side, [{ off, width: 3 }], 4), settings)
  expect(found[0]).toMatchObject({ kind: 'enclosure', tone: 'dark' })
  const { xy, length, completeness } = found[0]!
  expect(xy).toHaveLength(10)
  expect([xy[8], xy[9]]).toEqual([xy[0], xy[1]])
  for (const [x, y] of corners) {
    const nearest = Math.min(...[0, 2, 4, 6].map((i) => Math.hypot(xy[i]! - x, xy[i + 1]! - y)))
    expect(nearest).toBeLessThan(slack)
  }
  // Sides of 94.9 and 63.2 pixels.
  expect(Math.abs(length - 2 * (94.9 + 63.2))).toBeLessThan(2 * slack)
  expect(completeness).toBeGreaterThan(0.6)
  for (const { kind, falseAlarmsPerMpx } of found.slice(1))
    if (kind === 'line') expect(falseAlarmsPerMpx).toBeGreaterThan(0.1)
})

test('a ring is no rectangle', () => {
  const raster = drawnRings(side, [{ x: 100, y: 110, radius: 40, width: 3 }], 3)
  expect(findLines(raster, settings).filter(({ kind }) => kind === 'enclosure')).toEqual([])
})

test('two ditches that run beside one another have the distance between them', () => {
  const pair = [leg([30, 60], [200, 110]), leg([27, 75], [197, 125])]
  const off: DrawnDitch['off'] = (x, y) => Math.min(...pair.map((each) => each(x, y)))
  const apart = pair[1]!(30, 60)
  const [one, other] = findLines(drawnDitches(side, [{ off, width: 3 }], 4), settings)
  for (const each of [one, other]) {
    expect(each!.pairSpacing).toBeGreaterThan(apart - 0.5)
    expect(each!.pairSpacing).toBeLessThan(apart + 0.5)
    expect(each!.mayBe).toEqual([])
  }
})

test('pairs of 2 m gauge at even distances may be tramlines, and come after a ditch', () => {
  const wheels = [0, 1, 2, 3].flatMap((bout) =>
    [-4, 4].map((wheel) => leg([10 + 45 * bout + wheel, 20], [40 + 45 * bout + wheel, 220])),
  )
  const off: DrawnDitch['off'] = (x, y) => Math.min(...wheels.map((each) => each(x, y)))
  const raster = drawnDitches(
    side,
    [
      { off, width: 2.5 },
      { off: leg([20, 225], [220, 150]), width: 3 },
    ],
    4,
  )
  const found = findLines(raster, { ...settings, pixelM: 0.25 }).filter(
    (each) => each.falseAlarmsPerMpx < 0.1,
  )
  expect(found.filter(({ mayBe }) => mayBe.includes('tramlines')).length).toBeGreaterThanOrEqual(6)
  const long = found.filter(({ length }) => length > 100)
  expect(long[0]!.mayBe).toEqual([])
})

test('many lines at even distances may be plough ridges', () => {
  const raster = drawnDitches(
    side,
    Array.from({ length: 9 }, (_, i) => ({ off: leg([10, 20 + 22 * i], [230, 40 + 22 * i]), width: 3 })),
    4,
  )
  const found = findLines(raster, settings).slice(0, 6)
  for (const { mayBe } of found) expect(mayBe).toEqual(['plough ridges'])
})
