import { expect, test } from 'vitest'
import { type DrawnDitch, drawnDitches, leg } from '../../../../test/marks/drawn-lines.ts'
import { findLines, type LineCandidate, type LineSettings, type Raster } from '../index.ts'

const settings: LineSettings = {
  minWidthPx: 1.5,
  maxWidthPx: 4,
  leastLengthPx: 20,
  tone: 'dark',
  most: 100,
}
const side = 240

// Expected by construction.
const straight: DrawnDitch = { off: leg([20.3, 20.8], [150.6, 91.2]), width: 3 }
const straightLength = Math.hypot(130.3, 70.4)
const arc: DrawnDitch = {
  // From 30 to 150 degrees.
  off: (x, y) => (y - 20 < 55 ? 1e9 : Math.abs(Math.hypot(x - 120, y - 20) - 110)),
  width: 2.5,
}
const wave: DrawnDitch = {
  // The distance from a sine of small slope, to second order.
  off: (x, y) => {
    const slope = (8 * 2 * Math.PI * Math.cos((2 * Math.PI * x) / 160)) / 160
    return (y - 190 - 8 * Math.sin((2 * Math.PI * x) / 160)) / Math.sqrt(1 + slope * slope)
  },
  width: 3,
}

/** Root mean square of the distances from the middle, at the vertices and between them, leaving out the last four pixels at either end. */
function offMiddle({ xy, length }: LineCandidate, { off }: DrawnDitch): number {
  const distances: number[] = []
  let along = 0
  for (let i = 2; i < xy.length; i += 2) {
    const [dx, dy] = [xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!]
    for (let share = 0; share < 1; share += 0.125) {
      const at = along + share * Math.hypot(dx, dy)
      if (at > 4 && at < length - 4) distances.push(off(xy[i - 2]! + share * dx, xy[i - 1]! + share * dy))
    }
    along += Math.hypot(dx, dy)
  }
  return Math.sqrt(distances.reduce((sum, d) => sum + d * d, 0) / distances.length)
}

test.each([
  ['without noise', 0],
  ['on noise', 5],
])('%s ditches are where they were drawn, as long and as wide, an arc and a wave among them', (_, noise) => {
  const found = findLines(drawnDitches(side, [straight, arc, wave], noise), settings).slice(0, 3)
  for (const ditch of [straight, arc, wave]) {
    const own = found.find((each) => offMiddle(each, ditch) < 3)
    expect(own).toMatchObject({ kind: 'line', tone: 'dark', pairSpacing: null, mayBe: [] })
    expect(offMiddle(own!, ditch)).toBeLessThan(0.25)
    expect(own!.completeness).toBeGreaterThan(0.9)
    expect(own!.falseAlarmsPerMpx).toBeLessThan(0.1)
    // The deeper a ditch is cut off in flattening, the wider it seems: without noise there is no telling.
    if (noise > 0) expect(Math.abs(own!.width / ditch.width - 1)).toBeLessThan(0.4)
  }
  const lengths = [straight, arc, wave].map(
    (ditch) => found.find((each) => offMiddle(each, ditch) < 3)!.length,
  )
  // The arc goes from 30 to 150 degrees, the wave from edge to edge.
  const drawn = [
    straightLength,
    (110 * 2 * Math.PI) / 3,
    240 + (240 * (8 * 2 * Math.PI) ** 2) / (4 * 160 * 160),
  ]
  lengths.forEach((length, i) => {
    expect(Math.abs(length - drawn[i]!)).toBeLessThan(10)
  })
})

const noisy = drawnDitches(side, [straight, wave], 5)
const plain = findLines(noisy, settings)

/** Every place of one line lies on the other, to within `slack` pixels. */
function expectSame(one: LineCandidate, other: LineCandidate, slack: number): void {
  const on: DrawnDitch['off'] = (x, y) => {
    let least = Infinity
    for (let i = 2; i < other.xy.length; i += 2)
      least = Math.min(
        least,
        leg([other.xy[i - 2]!, other.xy[i - 1]!], [other.xy[i]!, other.xy[i + 1]!])(x, y),
      )
    return least
  }
  for (let i = 0; i < one.xy.length; i += 2) expect(on(one.xy[i]!, one.xy[i + 1]!)).toBeLessThan(slack)
  expect(Math.abs(one.length / other.length - 1)).toBeLessThan(0.02)
}

test.each([
  [20, 5000],
  [0.001, 0],
])('values times %d and plus %d give the same', (times, plus) => {
  const changed = findLines({ ...noisy, values: noisy.values.map((v) => v * times + plus) }, settings)
  plain.slice(0, 2).forEach((line, i) => {
    expectSame(line, changed[i]!, 0.05)
  })
})

test('a quarter turn of the image turns what is found', () => {
  const values = new Float32Array(noisy.values.length)
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      values[column * side + side - 1 - row] = noisy.values[row * side + column]!
  const turned = findLines({ ...noisy, values }, settings)
  for (const line of plain.slice(0, 2)) {
    const xy = line.xy.slice()
    for (let i = 0; i < xy.length; i += 2) [xy[i], xy[i + 1]] = [side - line.xy[i + 1]!, line.xy[i]!]
    const [one, other] = turned
    expectSame({ ...line, xy }, Math.abs(one!.length - line.length) < 10 ? one! : other!, 0.3)
  }
})

test('light and dark change places when the image is turned over', () => {
  const values = noisy.values.map((value) => -value)
  const [light] = findLines({ ...noisy, values }, { ...settings, tone: 'either' })
  expect(light!.tone).toBe('light')
  expectSame(light!, plain[0]!, 0.05)
})

test('done in pieces and done whole gives the same', () => {
  const pieces = findLines(noisy, settings, { columns: 100, rows: 77 })
  expect(pieces.map(({ length }) => length)).toEqual(
    plain.map(({ length }) => expect.closeTo(length, 2) as number),
  )
  plain.forEach((line, i) => {
    expectSame(line, pieces[i]!, 0.01)
    expect(pieces[i]!.falseAlarmsPerMpx).toBeCloseTo(line.falseAlarmsPerMpx, 4)
  })
})

test('a broken ditch is one line, and the missing part is told', () => {
  const whole = leg([30, 120.4], [210, 128.7])
  const off: DrawnDitch['off'] = (x, y) => (x > 100 && x < 124 ? 1e9 : whole(x, y))
  const [best] = findLines(drawnDitches(side, [{ off, width: 3 }], 4), settings)
  expect(Math.abs(best!.length - 180)).toBeLessThan(8)
  expect(Math.abs(best!.completeness - 156 / 180)).toBeLessThan(0.06)
})

test('a step between two fields is not given as a ditch without a question', () => {
  const raster = drawnDitches(side, [], 4)
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      if (column + 0.3 * row > 150) raster.values[row * side + column]! += 15
  for (const { falseAlarmsPerMpx, mayBe } of findLines(raster, { ...settings, tone: 'either' }))
    if (falseAlarmsPerMpx < 0.1) expect(mayBe).toContain('field edge')
})

test('nothing comes of even ground, of no data, or of no pixels to speak of', () => {
  const even: Raster = { columns: 64, rows: 64, values: new Float32Array(64 * 64).fill(7) }
  expect(findLines(even, settings)).toEqual([])
  expect(findLines({ ...even, values: even.values.map(() => Number.NaN) }, settings)).toEqual([])
  expect(findLines({ columns: 0, rows: 0, values: new Float32Array(0) }, settings)).toEqual([])
})

test('widths and lengths that cannot be looked for are refused', () => {
  for (const wrong of [
    { minWidthPx: 1 },
    { minWidthPx: 5 },
    { maxWidthPx: Number.NaN },
    { leastLengthPx: 5 },
    { leastLengthPx: Infinity },
  ])
    expect(() => findLines(noisy, { ...settings, ...wrong })).toThrow(RangeError)
})
