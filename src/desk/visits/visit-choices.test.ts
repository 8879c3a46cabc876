import { expect, test } from 'vitest'
import type { Visit } from '#contract'
import { choicesOf, visitsChosen } from './visit-choices.ts'

const visit = (id: number, day: string | null, person: string | null = null): Visit =>
  ({ id, day, name: day ?? 'Without a date', person }) as Visit
const visits = [visit(1, '2025-09-12'), visit(2, '2026-09-13', 'Ann'), visit(3, '2026-10-02'), visit(4, null)]

test('all, each year where there is more than one, each visit', () => {
  expect(choicesOf(visits).map(({ text }) => text)).toEqual([
    'All visits',
    'All of 2025',
    'All of 2026',
    '2025-09-12',
    '2026-09-13, Ann',
    '2026-10-02',
    'Without a date',
  ])
  expect(choicesOf(visits.slice(1, 3)).map(({ value }) => value)).toEqual(['all', 'visit 2', 'visit 3'])
})

test('a choice names its visits; one that has gone means all', () => {
  expect(visitsChosen('all', visits)).toBeNull()
  expect(visitsChosen('year 2026', visits)).toEqual([2, 3])
  expect(visitsChosen('visit 4', visits)).toEqual([4])
  expect(visitsChosen('visit 9', visits)).toBeNull()
})
