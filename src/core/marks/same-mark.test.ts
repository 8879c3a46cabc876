import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { isSameMark, type MarkPlace } from './same-mark.ts'

const place = fc.record({
  x: fc.double({ min: -500, max: 500, noNaN: true }),
  y: fc.double({ min: -500, max: 500, noNaN: true }),
  diameter: fc.double({ min: 1, max: 120, noNaN: true }),
})

test('the rule as it is told: a quarter of the larger diameter apart, a quarter smaller', () => {
  const ring = { x: 0, y: 0, diameter: 20 }
  expect(isSameMark(ring, { x: 5, y: 0, diameter: 20 })).toBe(true)
  expect(isSameMark(ring, { x: 5.01, y: 0, diameter: 20 })).toBe(false)
  expect(isSameMark(ring, { x: 0, y: 0, diameter: 15 })).toBe(true)
  expect(isSameMark(ring, { x: 0, y: 0, diameter: 14.99 })).toBe(false)
})

test('it asks the same of both, and everything is the same mark as itself', () => {
  fc.assert(fc.property(place, place, (a, b) => isSameMark(a, b) === isSameMark(b, a) && isSameMark(a, a)))
})

test('it does not depend on the unit', () => {
  const scaled = ({ x, y, diameter }: MarkPlace, by: number) => ({
    x: x * by,
    y: y * by,
    diameter: diameter * by,
  })
  fc.assert(fc.property(place, place, (a, b) => isSameMark(a, b) === isSameMark(scaled(a, 4), scaled(b, 4))))
})
