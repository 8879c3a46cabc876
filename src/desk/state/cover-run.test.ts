import { expect, test } from 'vitest'
import type { AreaView, SurveyView } from '#contract'
import { mayHaveCover } from './cover-run.ts'

const survey = (areas: number, tracks: number) => ({ counts: { areas, tracks } }) as unknown as SurveyView
const area = (kind: AreaView['kind']) => ({ kind }) as AreaView

test('a cover needs ground to be searched and a track; ground to be left alone is not enough', () => {
  expect(mayHaveCover(survey(1, 1), [area('no-go')])).toBe(false)
  expect(mayHaveCover(survey(2, 1), [area('no-go'), area('search')])).toBe(true)
  expect(mayHaveCover(survey(1, 0), [area('search')])).toBe(false)
  expect(mayHaveCover(survey(0, 1), [])).toBe(false)
  // The list has not come yet.
  expect(mayHaveCover(survey(1, 1), [])).toBe(true)
})
