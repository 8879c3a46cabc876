import { expect, test } from 'vitest'
import { faded, longHex } from './plan-colours.ts'

test('short colours are written out, so that an opacity can follow', () => {
  expect(longHex('#000')).toBe('#000000')
  expect(longHex('#1aF')).toBe('#11aaFF')
  expect(longHex('#2c5f3d')).toBe('#2c5f3d')
  expect(faded(longHex('#fff'), 0.5)).toBe('#ffffff80')
  expect(faded('#2c5f3d', 0)).toBe('#2c5f3d00')
})
