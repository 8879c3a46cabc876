import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lengthFrom, weightFrom } from './index.ts'

const value = (answer: ReturnType<typeof weightFrom>): number => {
  if ('refused' in answer) throw new Error(answer.refused)
  return answer.value
}

// Exact by the agreement of 1959 (Federal Register 59-5442): pound 453.59237 g, inch 25.4 mm; troy by NIST Handbook 44, appendix C.
test.each<[string, number]>([
  ['12.5 g', 12.5],
  ['12,5g', 12.5],
  ['1,234.5 g', 1234.5],
  ['3 oz', 85.048569375],
  ['½ oz', 14.1747615625],
  ['1½ oz', 42.5242846875],
  ['1 1/2 oz', 42.5242846875],
  ['12 dwt', 18.66208608],
  ['1 oz 4 dwt', 37.32417216],
  ['1 troy oz', 31.1034768],
  ['2 oz t', 62.2069536],
  ['22 grains', 1.42557602],
  ['1 lb 2 oz', 510.29141625],
  ['0.5 kg', 500],
  ['250 mg', 0.25],
  ['5 ct', 1],
])('%s is %d g', (text, grams) => expect(value(weightFrom(text, null))).toBeCloseTo(grams, 9))

test.each<[string, number]>([
  ['25 mm', 25],
  ['2.5cm', 25],
  ['0.02 m', 20],
  ['1 in', 25.4],
  ['3/4"', 19.05],
  ['1 ft 2 in', 355.6],
  ['1\' 2"', 355.6],
])('%s is %d mm', (text, millimetres) => expect(value(lengthFrom(text, null))).toBeCloseTo(millimetres, 9))

test('the factor is told where a unit was converted', () => {
  expect(weightFrom('12 dwt', null)).toMatchObject({ told: '12 dwt × 1.55517384' })
  expect(weightFrom('3 oz', null)).toMatchObject({ told: '3 oz (avoirdupois) × 28.349523125' })
  expect(weightFrom('1 oz 4 dwt', null)).toMatchObject({
    told: '1 oz troy × 31.1034768 + 4 dwt × 1.55517384',
  })
  expect(weightFrom('3 g', null)).toMatchObject({ told: null })
})

test.each<[string, string]>([
  ['5 gr', 'grams or grains'],
  ['2 dr', 'dram'],
  ['1,234', '1234 or 1.234'],
  ['12', 'no unit'],
  ['12-13 g', 'range'],
  ['-3 g', 'below zero'],
  ['heavy', 'no number'],
  ['3 stone', 'no unit that is known'],
  ['3 g 4', 'no unit'],
  ['1/0 oz', 'over zero'],
  ['', 'no number in it'],
  ['12 mm', 'no unit that is known'],
  ['9'.repeat(100), 'shorter than 60'],
])('%j is asked back: %s', (text, part) => {
  expect(weightFrom(text, null)).toEqual({ refused: expect.stringContaining(part) })
})

test('a bare number is in the unit of its column', () => {
  expect(weightFrom('12', 'g')).toEqual({ value: 12, told: null })
  expect(value(weightFrom('12', 'kg'))).toBe(12_000)
  expect(value(lengthFrom('12', 'in'))).toBeCloseTo(304.8, 9)
})

test('a number of grams or millimetres comes back as it was', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.001, max: 1e6, noNaN: true }), (number) => {
      const text = String(number)
      fc.pre(!text.includes('e'))
      expect(value(weightFrom(`${text} g`, null))).toBe(number)
      expect(value(lengthFrom(text, 'mm'))).toBe(number)
    }),
  )
})

test('any text is answered', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 70 }), (text) => {
      const answer = weightFrom(text, 'g')
      expect('refused' in answer || answer.value >= 0).toBe(true)
    }),
  )
})
