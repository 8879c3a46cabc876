import { expect, test } from 'vitest'
import { lineLookAlikes } from './line-candidate.ts'
import { whatALineMayBe } from './what-a-line-may-be.ts'

test('what a line looks like of our own day is asked before all else, as a question', () => {
  for (const each of lineLookAlikes) {
    const [first, ...others] = whatALineMayBe(1, null, [each]).questions
    expect(first).toMatch(/^Is it .*\?$/)
    expect(others).toEqual(whatALineMayBe(1, null, []).questions)
  }
  expect(whatALineMayBe(0.5, 2, ['tramlines']).questions[0]).toContain('1.5 to 2.5 m apart')
})

test('a pair is a trackway only where it is wider than tramlines', () => {
  const way = (spacing: number) =>
    whatALineMayBe(1, spacing, []).possible.some(({ what }) => what.startsWith('trackway'))
  expect([way(2), way(6), way(40)]).toEqual([false, true, false])
})

test('a line that nobody measured is not guessed at, and is still asked about', () => {
  const { possible, ordinary, questions } = whatALineMayBe(null, null, [])
  expect([possible, ordinary, questions.length]).toEqual([[], [], 3])
})
