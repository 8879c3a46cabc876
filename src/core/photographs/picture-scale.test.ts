import fc from 'fast-check'
import { expect, test } from 'vitest'
import { normal, seededRandom } from '#core/random'
import { measuredArea, measuredLength, nearnessError, type PicturePoint, pictureScale } from './index.ts'

const bar = { from: { x: 100, y: 900 }, to: { x: 600, y: 900 }, lengthMm: 50, lengthErrorMm: 0 }

test('a bar of 50 mm over 500 pixels, worked on paper', () => {
  const scale = pictureScale(bar, 1)
  expect(scale.mmPerPixel).toBe(0.1)
  expect(scale.relativeError).toBeCloseTo(Math.SQRT2 / 500, 15)
  const length = measuredLength(
    [
      { x: 0, y: 0 },
      { x: 30, y: 40 },
    ],
    scale,
  )
  expect(length.value).toBeCloseTo(5, 12)
  // Two clicks of 0.1 mm each, and the scale's 0.28 % of 5 mm.
  expect(length.standardError).toBeCloseTo(Math.hypot(0.1 * Math.SQRT2, (5 * Math.SQRT2) / 500), 12)
  const square = [
    { x: 0, y: 0 },
    { x: 100, y: 0 },
    { x: 100, y: 100 },
    { x: 0, y: 100 },
  ]
  const area = measuredArea(square, scale)
  expect(area.value).toBeCloseTo(100, 12)
  // Each corner moves the area by half its neighbours' distance: 4 × (141.4 / 2)², in 0.01 mm² a pixel.
  expect(area.standardError).toBeCloseTo(Math.hypot(0.01 * Math.sqrt(4 * 5000), (200 * Math.SQRT2) / 500), 12)
})

test('the standard errors are those of 20,000 simulated measurements', () => {
  const random = seededRandom(12)
  const shaken = ({ x, y }: PicturePoint): PicturePoint => ({
    x: x + 1.5 * normal(random),
    y: y + 1.5 * normal(random),
  })
  const outline = [
    { x: 300, y: 200 },
    { x: 520, y: 240 },
    { x: 560, y: 420 },
    { x: 400, y: 500 },
    { x: 280, y: 380 },
  ]
  const scale = pictureScale({ ...bar, lengthErrorMm: 0.1 }, 1.5)
  const lengths: number[] = []
  const areas: number[] = []
  for (let k = 0; k < 20_000; k++) {
    const again = pictureScale(
      { from: shaken(bar.from), to: shaken(bar.to), lengthMm: 50 + 0.1 * normal(random), lengthErrorMm: 0 },
      0,
    )
    const clicked = outline.map(shaken)
    lengths.push(measuredLength(clicked.slice(0, 4), again).value)
    areas.push(measuredArea(clicked, again).value)
  }
  const spread = (values: number[]): number => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1))
  }
  // A standard deviation of 20,000 draws is itself known to 0.5 %; first order leaves out less than that here.
  expect(measuredLength(outline.slice(0, 4), scale).standardError / spread(lengths)).toBeCloseTo(1, 1.7)
  expect(measuredArea(outline, scale).standardError / spread(areas)).toBeCloseTo(1, 1.7)
})

const anyPoint = fc.record({ x: fc.integer({ min: 0, max: 4000 }), y: fc.integer({ min: 0, max: 4000 }) })

test('turning and moving a picture changes neither length nor area; twice the scale gives twice and four times', () => {
  fc.assert(
    fc.property(
      fc.array(anyPoint, { minLength: 3, maxLength: 8 }),
      fc.double({ min: 0, max: 6.3, noNaN: true }),
      (points, angle) => {
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
        const turned = points.map(({ x, y }) => ({ x: cos * x - sin * y + 17, y: sin * x + cos * y - 5 }))
        const scale = pictureScale(bar, 1)
        const double = pictureScale({ ...bar, lengthMm: 100 }, 1)
        for (const [measure, factor] of [
          [measuredLength, 2],
          [measuredArea, 4],
        ] as const) {
          const plain = measure(points, scale)
          expect(measure(turned, scale).value).toBeCloseTo(plain.value, 5)
          expect(measure(turned, scale).standardError).toBeCloseTo(plain.standardError, 5)
          expect(measure(points, double).value).toBeCloseTo(factor * plain.value, 5)
        }
      },
    ),
  )
})

test('a face 10 mm nearer than its bar at half a metre is 2 % too large', () => {
  expect(nearnessError(10, 500)).toBeCloseTo(0.020408, 6)
  expect(nearnessError(0, 500)).toBe(0)
})

test('wrong calls are refused', () => {
  const scale = pictureScale(bar, 1)
  expect(() => pictureScale({ ...bar, to: bar.from }, 1)).toThrow(RangeError)
  expect(() => pictureScale({ ...bar, lengthMm: 0 }, 1)).toThrow(RangeError)
  expect(() => measuredLength([{ x: 0, y: 0 }], scale)).toThrow(RangeError)
  expect(() =>
    measuredArea(
      [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
      ],
      scale,
    ),
  ).toThrow(RangeError)
  expect(() => nearnessError(500, 500)).toThrow(RangeError)
})
