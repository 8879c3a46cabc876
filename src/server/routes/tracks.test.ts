import { expect, test } from 'vitest'
import { littleEndianBytes } from './tracks.ts'

test('bytes are little-endian, of the part that a view shows only, and swapped where the machine is not', () => {
  const values = Float64Array.of(9, 1, -2.5, 9).subarray(1, 3)
  const bytes = littleEndianBytes(values, 'LE')
  expect([bytes.length, bytes.readDoubleLE(0), bytes.readDoubleLE(8)]).toEqual([16, 1, -2.5])
  const swapped = littleEndianBytes(values, 'BE')
  expect([swapped.readDoubleBE(0), swapped.readDoubleBE(8)]).toEqual([1, -2.5])
  expect(values).toEqual(Float64Array.of(1, -2.5))
})
