import { expect, test } from 'vitest'
import { numberFrom } from './number-text.ts'

test.each([
  ['1.5', 1.5],
  ['1,5', 1.5],
  [' 12 000 ', 12_000],
  ['.5', 0.5],
  ['-3', -3],
  ['', null],
  ['1.2.3', null],
  ['1e5', null],
  ['two', null],
])('%s is %s', (text, value) => expect(numberFrom(text)).toBe(value))
