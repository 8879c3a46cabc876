import fc from 'fast-check'
import { expect, test } from 'vitest'
import { rowForKey, rowWindow } from './row-window.ts'

test('the window holds every row in sight and stays inside the list', () => {
  fc.assert(
    fc.property(fc.nat(60_000), fc.nat(3_000_000), fc.integer({ min: 0, max: 2000 }), (rows, top, height) => {
      const { first, end } = rowWindow(rows, 40, top, height)
      expect(first).toBeGreaterThanOrEqual(0)
      expect(end).toBeLessThanOrEqual(rows)
      expect(end).toBeGreaterThanOrEqual(first)
      for (let row = Math.ceil(top / 40); row * 40 < top + height && row < rows; row += 1) {
        expect(row >= first && row < end).toBe(true)
      }
    }),
  )
})

test('50,000 rows draw as few as 500', () => {
  const { first, end } = rowWindow(50_000, 40, 1_000_000, 600)
  expect(end - first).toBe(15 + 16)
})

test('keys move within the list', () => {
  expect(rowForKey('ArrowDown', 4, 5, 3)).toBe(4)
  expect(rowForKey('ArrowUp', 0, 5, 3)).toBe(0)
  expect(rowForKey('PageDown', 0, 50, 10)).toBe(10)
  expect(rowForKey('Home', 30, 50, 10)).toBe(0)
  expect(rowForKey('End', 30, 50, 10)).toBe(49)
  expect(rowForKey('a', 30, 50, 10)).toBeNull()
  expect(rowForKey('ArrowDown', 0, 0, 10)).toBeNull()
})
