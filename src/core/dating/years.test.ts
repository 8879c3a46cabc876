import fc from 'fast-check'
import { expect, test } from 'vitest'
import { isYear, spanText, yearAt, yearIndex, yearsIn, yearText } from './index.ts'

const anyYear = fc.integer({ min: -1_000_000, max: 2100 }).filter((year) => year !== 0)

test('the year after 1 BC is AD 1', () => {
  expect(yearAt(yearIndex(-1) + 1)).toBe(1)
  expect(yearsIn({ from: -1, to: 1 })).toBe(2)
  expect(yearsIn({ from: -100, to: 100 })).toBe(200)
  expect(isYear(0)).toBe(false)
})

test('years and indexes keep their order and come back', () => {
  fc.assert(
    fc.property(anyYear, anyYear, (a, b) => {
      expect(yearAt(yearIndex(a))).toBe(a)
      expect(Math.sign(yearIndex(a) - yearIndex(b))).toBe(Math.sign(a - b))
    }),
  )
})

test('years and spans are written as people write them', () => {
  expect([yearText(-1200), yearText(43)]).toEqual(['1200 BC', 'AD 43'])
  expect(
    [
      { from: -800, to: -200 },
      { from: 43, to: 410 },
      { from: -50, to: 50 },
      { from: 1215, to: 1215 },
    ].map(spanText),
  ).toEqual(['800–200 BC', 'AD 43–410', '50 BC – AD 50', 'AD 1215'])
})

test('what is no year is refused', () => {
  expect(() => yearIndex(0)).toThrow(RangeError)
  expect(() => yearIndex(1.5)).toThrow(RangeError)
  expect(() => yearsIn({ from: 2, to: 1 })).toThrow(RangeError)
})
