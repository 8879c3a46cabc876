import { expect, test } from 'vitest'
import { sameAnswers } from './same-answer.ts'

test('the same text gives the same object, another text another', () => {
  const answerOf = sameAnswers()
  const first = answerOf('gaps', '[{"id":1}]')
  expect(first).toEqual([{ id: 1 }])
  expect(answerOf('gaps', '[{"id":1}]')).toBe(first)
  expect(answerOf('areas', '[{"id":1}]')).not.toBe(first)
  const second = answerOf('gaps', '[{"id":2}]')
  expect(second).toEqual([{ id: 2 }])
  expect(answerOf('gaps', '[{"id":1}]')).not.toBe(first)
})
