import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { isSameEnclosure, isSameLine, type LinePlace } from './same-line.ts'

const line = (width: number | null, ...xy: number[]): LinePlace => ({ xy: Float64Array.from(xy), width })
const square = (x: number, y: number, side: number): LinePlace =>
  line(1, x, y, x + side, y, x + side, y + side, x, y + side, x, y)

test('a piece of a line is that line, in whichever order they come and whichever way they run', () => {
  const whole = line(1, 0, 0, 60, 10, 120, 10)
  const piece = line(1, 100, 10.5, 70, 10.5)
  expect([isSameLine(whole, piece), isSameLine(piece, whole)]).toEqual([true, true])
})

// Handbook: tramlines run in pairs 1.5 to 2.5 m apart; their own width is some 0.5 m.
test('the two lines of a pair stay two, however near a wheel runs to the other', () => {
  for (const apart of [1.5, 2, 2.5]) {
    expect(isSameLine(line(0.5, 0, 0, 100, 0), line(0.5, 0, apart, 100, apart))).toBe(false)
  }
  expect(isSameLine(line(2, 0, 0, 100, 0), line(2, 0, 6, 100, 6))).toBe(false)
})

test('a line is as near as it is wide, and no less than a metre', () => {
  const at = (width: number | null, off: number) =>
    isSameLine(line(width, 0, 0, 50, 0), line(null, 0, off, 50, off))
  expect([at(null, 1), at(null, 1.1), at(3, 3), at(3, 3.1)]).toEqual([true, false, true, false])
})

test('lines that only cross, or run on from one another, are two', () => {
  expect(isSameLine(line(2, 0, 0, 100, 0), line(2, 50, -50, 50, 50))).toBe(false)
  expect(isSameLine(line(2, 0, 0, 100, 0), line(2, 70, 0, 170, 0))).toBe(false)
  expect(isSameLine(line(2, 0, 0, 100, 0), line(2, 25, 0, 125, 0))).toBe(true)
})

test('enclosures are one by the ground they share: a part of 60 %', () => {
  expect(isSameEnclosure(square(0, 0, 40), square(5, 5, 40))).toBe(true)
  // Shifted by a half, they share a third of what either holds.
  expect(isSameEnclosure(square(0, 0, 40), square(20, 0, 40))).toBe(false)
  expect(isSameEnclosure(square(0, 0, 40), square(100, 0, 40))).toBe(false)
  expect(isSameEnclosure(square(0, 0, 40), square(14, 14, 12))).toBe(false)
})

test('it asks the same of both, and everything is the same as itself', () => {
  const place = fc.double({ min: -50, max: 50, noNaN: true })
  const drawn = fc
    .tuple(fc.array(fc.tuple(place, place), { minLength: 2, maxLength: 5 }), fc.option(fc.constant(3)))
    .map(([pairs, width]): LinePlace => ({ xy: Float64Array.from(pairs.flat()), width }))
    .filter(({ xy }) => xy.some((value, i) => Math.abs(value - xy[i % 2]!) > 1))
  fc.assert(fc.property(drawn, drawn, (a, b) => isSameLine(a, b) === isSameLine(b, a) && isSameLine(a, a)))
})
