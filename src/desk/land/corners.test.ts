import fc from 'fast-check'
import { expect, test } from 'vitest'
import { areaOf, cornersText, type Polygons, polygonsFrom } from './corners.ts'

const square = (x: number, y: number, side: number): [number, number][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
  [x, y],
]

test('holes are taken off and parts are added', () => {
  expect(areaOf([[square(0, 0, 10), square(2, 2, 3)], [square(20, 0, 5)]])).toBe(91 + 25)
})

test('a ring inside another becomes its hole, one outside a part', () => {
  const written: Polygons = [[square(0, 0, 10), square(2, 2, 3)], [square(20, 0, 5)]]
  expect(polygonsFrom(cornersText(written))).toEqual({ polygons: written })
})

test('corners survive being written and read, to the centimetre', () => {
  const metres = fc.double({ min: 0, max: 1_300_000, noNaN: true })
  fc.assert(
    fc.property(metres, metres, fc.integer({ min: 1, max: 5000 }), (x, y, side) => {
      const read = polygonsFrom(cornersText([[square(x, y, side)]]))
      if (!('polygons' in read)) throw new Error(read.fault)
      expect(Math.abs(areaOf(read.polygons) - side * side)).toBeLessThanOrEqual(0.04 * side + 0.001)
    }),
  )
})

test('commas and tabs are taken as well', () => {
  expect(polygonsFrom('0, 0\n10\t0\n10;10')).toEqual({
    polygons: [
      [
        [
          [0, 0],
          [10, 0],
          [10, 10],
          [0, 0],
        ],
      ],
    ],
  })
})

test.each([
  ['', 'at least three corners'],
  ['1 2\n3 4', 'at least three corners'],
  ['1 2\n3 x\n5 6', 'Line 2'],
  ['1 2\n3 4 5\n5 6', 'Line 2'],
  ['0 0\n1 1\n2 2', 'encloses no ground'],
])('%j is refused with a reason', (text, reason) => {
  const read = polygonsFrom(text)
  expect('fault' in read ? read.fault : '').toContain(reason)
})
