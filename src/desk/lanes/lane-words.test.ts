import { expect, test } from 'vitest'
import type { PlanLight } from '#contract'
import { fitText, lanesText, lightText } from './lane-words.ts'

const light = (hours: number, leftHours: number | null, fits: boolean): PlanLight => ({
  day: '2026-11-25',
  sun: { rise: null, set: null, all: 'above' },
  civil: { rise: null, set: null, all: 'above' },
  hours,
  fits,
  leftHours,
})

test.each([
  [2, light(9, 3, true), true, 'left today'],
  [4, light(9, 3, true), false, 'one whole day'],
  [20, light(9, 3, false), false, '3 whole days'],
  [2, light(9, 0, true), false, 'no daylight left'],
  [2, light(9, null, true), true, 'Fits into the'],
  [10, light(9, null, false), false, '2 whole days'],
  [10, light(0, null, false), false, 'No day'],
])('%s h of lanes', (hours, of, fits, words) => {
  const told = fitText(hours, of)
  expect(told.fits).toBe(fits)
  expect(told.text).toContain(words)
})

test('light and lanes in words', () => {
  expect(lightText(light(24, null, true))).toContain('does not get dark')
  expect(lanesText({ lanes: 1, bearing: null })).toBe('1 lane')
  expect(lanesText({ lanes: 1200, bearing: 42.4 })).toBe('1,200 lanes along 42°')
})
