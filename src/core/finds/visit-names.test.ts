import { expect, test } from 'vitest'
import { visitNames } from './visit-names.ts'

test('a visit is called by its day and its person, and two alike are told apart', () => {
  const visits = [
    { uuid: 'a', day: '2026-09-12', person: 'Ann' },
    { uuid: 'b', day: '2026-09-12', person: 'Ann' },
    { uuid: 'c', day: '2026-09-12', person: null },
    { uuid: 'd', day: null, person: null },
  ]
  expect([...visitNames(visits).values()]).toEqual([
    '2026-09-12, Ann',
    '2026-09-12, Ann (2)',
    '2026-09-12',
    'without a date',
  ])
})
