import { expect, test } from 'vitest'
import { clockBy, typedMoment, zoneSeconds, zoneText } from './camera-clock.ts'

const nine = Date.UTC(2026, 8, 12, 9) / 1000

test('a camera in summer time, three minutes fast, is read right', () => {
  expect(clockBy(nine + 3600 + 180, nine, null)).toEqual({ zoneS: 3600, clockS: -180 })
  expect(clockBy(nine - 12_600 - 40, nine, null)).toEqual({ zoneS: -12_600, clockS: 40 })
})

test('a zone that is told stays; a wrong date is the clock’s', () => {
  expect(clockBy(nine + 7200, nine, 3600)).toEqual({ zoneS: 3600, clockS: -3600 })
  const years = 6 * 365 * 86_400
  expect(clockBy(nine - years, nine, null)).toEqual({ zoneS: 0, clockS: years })
})

test('zones in words and back', () => {
  expect([0, 3600, -12_600].map(zoneText)).toEqual(['UTC', 'UTC+01:00', 'UTC−03:30'])
  expect(['+00:00', '+05:45', '-03:30'].map(zoneSeconds)).toEqual([0, 20_700, -12_600])
})

test('a moment is typed with or without its day', () => {
  expect(typedMoment('09:14:30', nine)).toBe(nine + 870)
  expect(typedMoment(' 2026-09-13 9:14 ', nine)).toBe(nine + 86_400 + 840)
  for (const wrong of ['', 'nine', '24:00', '2026-13-40 09:00', '09:60'])
    expect(typedMoment(wrong, nine)).toBeNull()
})
