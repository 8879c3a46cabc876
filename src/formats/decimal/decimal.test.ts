import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { decimal, fixedDecimal } from './index.ts'

test('every number that JavaScript prints comes back bit for bit', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(decimal(String(value))).toBe(Object.is(value, -0) ? 0 : value)
    }),
  )
})

test('decimal texts mean what Number says', () => {
  const digits = fc.stringMatching(/^[+-]?(\d{1,20}\.?\d{0,20}|\.\d{1,20})$/)
  fc.assert(
    fc.property(digits, (text) => {
      expect(decimal(`\n ${text}\t`)).toBe(Number(text))
    }),
  )
})

test.each([
  '',
  ' ',
  '.',
  '-',
  '+.',
  '1,5',
  '0x10',
  'Infinity',
  'NaN',
  '1e',
  '1.2.3',
  '--1',
  '1 2',
  'e5',
  '٣',
])('%j is no number', (text) => expect(decimal(text)).toBeNaN())

test.each([
  [52.1234567891, 8, '52.12345679'],
  [-0.000000001, 8, '0'],
  [9.1697e-5, 8, '0.0000917'],
  [100, 2, '100'],
  [1e20, 3, '100000000000000000000'],
])('%d to %d places is %s', (value, places, text) => expect(fixedDecimal(value, places)).toBe(text))

test('what has no plain notation is a wrong call', () => {
  for (const value of [Number.NaN, Infinity, 1e21]) expect(() => fixedDecimal(value, 2)).toThrow(RangeError)
})
