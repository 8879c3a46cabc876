import { describe, expect, test } from 'vitest'
import { isFindNumber, type SurveyFile } from '#store'
import { findspot, newSurvey, noContent, original } from './sample.ts'

let files = 0
function addFinds(survey: SurveyFile, ...given: (string | null)[]) {
  const findspots = given.map((number, i) => findspot(`spot ${i}`, { number }))
  return survey.addFile(original(`${files++}.csv`), { ...noContent, findspots })
}
const numbers = (survey: SurveyFile) => survey.finds().map((find) => find.number)

test('the form is CODE-YEAR-NNN', () => {
  expect(['NST-2026-001', 'A1-1999-1000', 'ABCDEFGH-2026-123456'].map(isFindNumber)).toEqual([
    true,
    true,
    true,
  ])
  expect(
    ['NST-26-001', 'nst-2026-001', 'NST-2026-1', 'NST 2026 001', 'N-2026-001', ''].map(isFindNumber),
  ).toEqual(Array(6).fill(false))
})

describe('numbers of finds', () => {
  test('run on by the year of the find, UTC', () => {
    const survey = newSurvey()
    addFinds(survey, null, null)
    const late = findspot('late')
    const newYear = { ...late, recorded: { ...late.recorded, time: Date.UTC(2025, 0, 1) / 1000 } }
    const untimed = { ...late, recorded: { ...late.recorded, time: null } }
    survey.addFile(original('late.csv'), { ...noContent, findspots: [newYear, untimed] })
    addFinds(survey, null)
    expect(numbers(survey)).toEqual([
      'NST-2023-001',
      'NST-2023-002',
      'NST-2025-001',
      'NST-2026-001',
      'NST-2023-003',
    ])
  })

  test('that a file gives are kept, also those of another survey, and fresh ones go round them', () => {
    const survey = newSurvey()
    const reply = addFinds(survey, null, 'NST-2023-001', ' NST-2023-007 ', 'OLD-2019-012', null)
    expect(numbers(survey)).toEqual([
      'NST-2023-008',
      'NST-2023-001',
      'NST-2023-007',
      'OLD-2019-012',
      'NST-2023-009',
    ])
    expect(reply.renumbered).toEqual([])
  })

  test('that are taken or malformed are replaced, and the given one is kept beside', () => {
    const survey = newSurvey()
    addFinds(survey, 'NST-2023-001')
    const reply = addFinds(survey, 'NST-2023-001', '12', 'NST-2023-002', 'NST-2023-002')
    expect(numbers(survey)).toEqual([
      'NST-2023-001',
      'NST-2023-003',
      'NST-2023-004',
      'NST-2023-002',
      'NST-2023-005',
    ])
    expect(reply.renumbered).toEqual([
      { given: 'NST-2023-001', number: 'NST-2023-003' },
      { given: '12', number: 'NST-2023-004' },
      { given: 'NST-2023-002', number: 'NST-2023-005' },
    ])
    expect(survey.finds().map((find) => find.givenNumber)).toEqual([
      null,
      'NST-2023-001',
      '12',
      null,
      'NST-2023-002',
    ])
  })

  test('are never given out twice, though the find is gone', () => {
    const survey = newSurvey()
    addFinds(survey, null, null)
    survey.undo()
    addFinds(survey, null)
    expect(numbers(survey)).toEqual(['NST-2023-003'])
  })

  test('go past 999', () => {
    const survey = newSurvey()
    addFinds(survey, 'NST-2023-999', null)
    expect(numbers(survey)).toEqual(['NST-2023-999', 'NST-2023-1000'])
  })
})
