import { expect, test } from 'vitest'
import { findText } from './find-text.ts'

const buckle = {
  number: 'NST-2025-014',
  object: 'buckle',
  material: 'copper alloy',
  period: 'medieval',
  count: 1,
  weightG: 12.4,
  depthM: 0.15,
}
test('a find reads in one line and leaves out what is not known', () => {
  expect(findText(buckle)).toBe('NST-2025-014 buckle, copper alloy, medieval, 12.4 g, 15 cm deep')
  expect(
    findText({
      ...buckle,
      number: null,
      count: 3,
      material: null,
      period: null,
      weightG: null,
      depthM: null,
    }),
  ).toBe('buckle (3)')
})
