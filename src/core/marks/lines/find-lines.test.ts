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

const drawn = [straight, arc, wave]
const noisy = drawnDitches(side, drawn, 5)
const plain = findLines(noisy, settings)

test.each([
  ['without noise', findLines(drawnDitches(side, drawn), settings)],
  ['on noise', plain],
])(
  '%s ditches are where they were drawn, as long and as wide, an arc and a wave among them',
  (noise, all) => {
    const found = all.slice(0, 3)
    // The arc goes from 30 to 150 degrees, the wave from edge to edge.
    const arcLength = (110 * 2 * Math.PI) / 3
    const waveLength = 240 + (240 * (8 * 2 * Math.PI) ** 2) / (4 * 160 * 160)
    for (const [ditch, length] of [
      [straight, straightLength],
      [arc, arcLength],
      [wave, waveLength],
    ] as const) {
      const own = found.find((each) => offMiddle(each, ditch) < 3)!
      expect(own).toMatchObject({ kind: 'line', tone: 'dark', pairSpacing: null, mayBe: [] })
      expect(offMiddle(own, ditch)).toBeLessThan(0.25)
      expect(own.completeness).toBeGreaterThan(0.9)
      expect(own.falseAlarmsPerMpx).toBeLessThan(0.1)
      expect(Math.abs(own.length - length)).toBeLessThan(10)
      // The deeper a ditch is cut off in flattening, the wider it seems: without noise there is no telling.
      if (noise === 'on noise') expect(Math.abs(own.width / ditch.width - 1)).toBeLessThan(0.4)
    }
  },
)

/** Vertices of one line, and the middles between them, lie on the other to within `slack` pixels, and its two ends to within `endSlack`. */
function expectSame(one: LineCandidate, other: LineCandidate, slack: number, endSlack = slack): void {
  const legs = Array.from({ length: other.xy.length / 2 - 1 }, (_, i) =>
    leg([other.xy[2 * i]!, other.xy[2 * i + 1]!], [other.xy[2 * i + 2]!, other.xy[2 * i + 3]!]),
  )
  const off = (x: number, y: number): number => Math.min(...legs.map((each) => each(x, y)))
  const { xy, length } = one
  let [within, atEnds] = [0, 0]
  for (let i = 0; i < xy.length; i += 2) {
    const here = off(xy[i]!, xy[i + 1]!)
    if (i === 0 || i + 2 === xy.length) atEnds = Math.max(atEnds, here)
    else within = Math.max(within, here)
    if (i > 0) within = Math.max(within, off((xy[i - 2]! + xy[i]!) / 2, (xy[i - 1]! + xy[i + 1]!) / 2))
  }
  expect(within).toBeLessThan(slack)
  expect(atEnds).toBeLessThan(endSlack)
  expect(Math.abs(length / other.length - 1)).toBeLessThan(0.02)
}

test('turned over, and 0.001 times as strong, the same lines are light ones', () => {
  const values = noisy.values.map((value) => -0.001 * value)
  const changed = findLines({ ...noisy, values }, { ...settings, tone: 'either' })
  plain.slice(0, 3).forEach((line, i) => {
    expect(changed[i]!.tone).toBe('light')
    expectSame(line, changed[i]!, 0.05)
  })
})

test('a quarter turn of an image 20 times as strong and lighter by 5000 turns what is found', () => {
  const values = new Float32Array(noisy.values.length)
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      values[column * side + side - 1 - row] = 20 * noisy.values[row * side + column]! + 5000
  const turned = findLines({ ...noisy, values }, settings).slice(0, 3)
  for (const line of plain.slice(0, 3)) {
    const xy = line.xy.slice()
    for (let i = 0; i < xy.length; i += 2) [xy[i], xy[i + 1]] = [side - line.xy[i + 1]!, line.xy[i]!]
    const nearest = turned.toSorted(
      (a, b) => Math.abs(a.length - line.length) - Math.abs(b.length - line.length),
    )
    // Noise is measured on one pixel in four, which are others after the turn: an end may be cut a pixel or two elsewhere.
    expectSame({ ...line, xy }, nearest[0]!, 0.3, 2)
  }
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

test('the border of a sloping ground, and of its data, is no line', () => {
  const ground = drawnDitches(side, [], 6)
  const values = ground.values.map((value, i) => {
    const [row, column] = [Math.floor(i / side), i % side]
    return column < 60 && row > 40 ? Number.NaN : value + 3 * column + 2 * row
  })
  const found = findLines({ ...ground, values }, { ...settings, tone: 'either' })
  expect(found.filter(({ falseAlarmsPerMpx }) => falseAlarmsPerMpx < 1)).toEqual([])
})
