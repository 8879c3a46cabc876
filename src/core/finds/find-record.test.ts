import fc from 'fast-check'
import { expect, test } from 'vitest'
import { findFieldNames, findNumberText, numberedFind, parseFindNumber } from './index.ts'

test('the list of fields is that of the record', () => {
  expect(findFieldNames.toSorted()).toEqual(Object.keys(numberedFind('NST-2026-001')).toSorted())
})

test('a find number is read back from its parts', () => {
  fc.assert(
    fc.property(
      fc.stringMatching(/^[A-Z][A-Z0-9]{1,7}$/),
      fc.integer({ min: 0, max: 9999 }),
      fc.integer({ min: 0, max: 999_999_999 }),
      (code, year, running) => {
        expect(parseFindNumber(findNumberText({ code, year, running }))).toEqual({ code, year, running })
      },
    ),
  )
})

test.each([
  '',
  'NST-2026-01',
  'nst-2026-001',
  'NST-26-001',
  ' NST-2026-001',
  'N-2026-001',
  'NST-2026-0000000001',
])('%j is no find number', (text) => expect(parseFindNumber(text)).toBeNull())

test('parts that make no number are refused', () => {
  expect(() => findNumberText({ code: 'nst', year: 2026, running: 1 })).toThrow(RangeError)
  expect(() => findNumberText({ code: 'NST', year: 2026, running: 1.5 })).toThrow(RangeError)
})
