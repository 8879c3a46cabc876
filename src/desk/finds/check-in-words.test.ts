import { expect, test } from 'vitest'
import type { FindRow } from '#contract'
import { foundDays, numberRead } from './check-in-words.ts'

test('the days of finding, the latest first', () => {
  const rows = ['2026-11-20T10:00:00.000Z', '2026-11-22T00:00:00.000Z', '2026-11-20T11:00:00.000Z', null]
  expect(foundDays(rows.map((foundAt) => ({ foundAt }) as FindRow))).toEqual([
    ['2026-11-22', 1],
    ['2026-11-20', 2],
  ])
})

test('a scanned code, a number, or the last figures of one expected', () => {
  const expected = [{ number: 'NST-2026-017', kind: 'find' as const }]
  expect(numberRead(`NST-2026-004 ${'0123456789ABCDEF'.repeat(2)}`, expected)).toBe('NST-2026-004')
  expect(numberRead(' nst-2026-005', expected)).toBe('NST-2026-005')
  expect(numberRead('17', expected)).toBe('NST-2026-017')
  expect(numberRead('18', expected)).toBe('18')
})
