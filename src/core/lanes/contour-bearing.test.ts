import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { contourBearing } from './contour-bearing.ts'

const side = 24
const cellM = 5
const apart = (a: number, b: number): number => Math.abs(((a - b + 270) % 180) - 90)

/** Heights by easting and northing, metres, from the middle of the chip. */
const chip = (height: (east: number, north: number) => number) => ({
  columns: side,
  rows: side,
  cells: Float32Array.from({ length: side * side }, (_, i) =>
    height(((i % side) - side / 2) * cellM, (side / 2 - Math.floor(i / side)) * cellM),
  ),
})

test('of a plane, the contour lies across its fall, and the slope is the plane’s', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 360, noNaN: true }),
      fc.double({ min: 1, max: 40, noNaN: true }),
      (faces, slope) => {
        const angle = (faces * Math.PI) / 180
        const fall = Math.tan((slope * Math.PI) / 180)
        const found = contourBearing(
          chip((east, north) => -fall * (east * Math.sin(angle) + north * Math.cos(angle))),
          cellM,
        )
        // Heights are 32-bit floats: some 4e-6 m in 60.
        expect(apart(found.bearing, (faces + 90) % 180)).toBeLessThan(0.01)
        expect(found.slope).toBeCloseTo(slope, 2)
        expect(found.spread).toBeLessThan(0.1)
      },
    ),
  )
})

test('both flanks of a ridge agree, a cone has no one bearing, and level ground has none', () => {
  const ridge = contourBearing(
    chip((east) => -0.1 * Math.abs(east)),
    cellM,
  )
  expect(apart(ridge.bearing, 0)).toBeLessThan(0.01)
  expect(ridge.spread).toBeLessThan(1)
  const cone = contourBearing(
    chip((east, north) => -0.1 * Math.hypot(east + 2.5, north - 2.5)),
    cellM,
  )
  expect(cone.spread).toBeGreaterThan(60)
  const level = contourBearing(
    chip(() => 31),
    cellM,
  )
  expect([level.bearing, level.slope]).toEqual([Number.NaN, 0])
})

test('missing heights are passed over', () => {
  const whole = chip((east, north) => 0.05 * east + 0.02 * north)
  const holed = whole.cells.map((height, i) => (i % 7 === 0 ? Number.NaN : height))
  const found = contourBearing({ ...whole, cells: holed }, cellM)
  expect(apart(found.bearing, contourBearing(whole, cellM).bearing)).toBeLessThan(0.01)
  expect(found.places).toBeLessThan(22 * 22)
  const none = contourBearing({ ...whole, cells: new Float32Array(side * side).fill(Number.NaN) }, cellM)
  expect([none.bearing, none.slope, none.places]).toEqual([Number.NaN, Number.NaN, 0])
})
