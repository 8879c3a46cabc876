import { expect, test } from 'vitest'
import { numberedFind } from '#core/finds'
import { fieldText, patchFromText } from './field-text.ts'

const record = {
  ...numberedFind('NST-2026-001'),
  materials: [
    { text: 'copper alloy', term: 'fish:75339' },
    { text: 'gold', term: null },
  ],
  weightG: 4.25,
}
const patch = (...args: Parameters<typeof patchFromText>) => {
  const answer = patchFromText(...args)
  return 'refused' in answer ? answer.refused : answer.patch
}

test('fields read as they are typed', () => {
  expect(fieldText(record, 'materials')).toBe('copper alloy; gold')
  expect(fieldText(record, 'weightG')).toBe('4.25')
  expect(fieldText(record, 'period')).toBe('')
})

test('weights and sizes are taken in other units, and it is told how', () => {
  expect(patchFromText('weightG', '12 dwt')).toMatchObject({ told: expect.stringContaining('dwt') })
  expect(patch('weightG', '3.5')).toEqual({ weightG: 3.5 })
  expect(patch('lengthMm', '1.2 cm')).toEqual({ lengthMm: 12 })
  expect(patch('depthCm', '12')).toEqual({ depthCm: 12 })
  expect(patch('depthCm', '0.1 m')).toEqual({ depthCm: 10 })
  expect(patch('weightG', '-1')).toMatch(/\w/)
  expect(patch('weightG', '')).toEqual({ weightG: null })
})

test('years are written with BC or a minus, and there is no year 0', () => {
  expect(patch('fromYear', '1200 BC')).toEqual({ fromYear: -1200 })
  expect(patch('fromYear', 'AD 43')).toEqual({ fromYear: 43 })
  expect(patch('toYear', '-1')).toEqual({ toYear: -1 })
  expect(patch('toYear', '0')).toContain('no year 0')
  expect(patch('toYear', 'C4')).toContain('no year')
})

test('a term is kept with the word it belongs to, and never guessed', () => {
  expect(patch('materials', 'copper alloy; lead', record)).toEqual({
    materials: [
      { text: 'copper alloy', term: 'fish:75339' },
      { text: 'lead', term: null },
    ],
  })
  expect(patch('materials', 'copper alloy; gold', record)).toEqual({})
  expect(patch('objectType', 'buckle')).toEqual({ objectType: { text: 'buckle', term: null } })
})

test('choices and counts are held to what there is', () => {
  expect(patch('damage', 'plough; old')).toEqual({ damage: ['plough', 'old'] })
  expect(patch('damage', 'fire')).toContain('plough, recent, old')
  expect(patch('certainty', 'sure')).toContain('certain, probable, possible')
  expect(patch('count', '1.5')).toContain('whole number')
  expect(patch('number', '')).toContain('keeps its number')
})
