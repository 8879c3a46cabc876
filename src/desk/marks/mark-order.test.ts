import { expect, test } from 'vitest'
import type { Mark } from '#contract'
import { madeUpMark } from '../../../test/desk/made-up-mark.ts'
import { bestFirst, isShown, kindListed, markBeside } from './mark-order.ts'

const mark = (id: number, falseAlarmsPerKm2: number | null, state = 'candidate' as const, score = 0.5) =>
  madeUpMark({ id, falseAlarmsPerKm2, state, score })
const toDecide = (each: Mark) => isShown(each, { state: 'candidate', kind: 'all' })
const any = (each: Mark) => isShown(each, { state: 'all', kind: 'all' })
const ids = (marks: readonly { id: number }[]) => marks.map(({ id }) => id)

test('what chance gives least often comes first, what nobody measured last', () => {
  const marks = [mark(1, null), mark(2, 5), mark(3, 0.1), mark(4, 5, 'candidate', 0.9), mark(5, null)]
  expect(ids(bestFirst(marks))).toEqual([3, 4, 2, 1, 5])
})

test('what looks like tramlines comes after all that does not, however rare by chance', () => {
  const marks = [
    madeUpMark({ id: 1, falseAlarmsPerKm2: 0.001, mayBe: ['tramlines'] }),
    mark(2, 50),
    mark(3, null),
  ]
  expect(ids(bestFirst(marks))).toEqual([2, 3, 1])
})

test('one after another among those to decide, and round again', () => {
  const marks = [mark(1, 1), madeUpMark({ id: 2, state: 'rejected' }), mark(3, 3), mark(4, 4)]
  expect(markBeside(marks, toDecide, null, 1)?.id).toBe(1)
  expect(markBeside(marks, toDecide, null, -1)?.id).toBe(4)
  expect(markBeside(marks, toDecide, 1, 1)?.id).toBe(3)
  expect(markBeside(marks, toDecide, 4, 1)?.id).toBe(1)
  expect(markBeside(marks, toDecide, 1, -1)?.id).toBe(4)
  expect(markBeside(marks, any, 1, 1)?.id).toBe(2)
})

test('a mark that was just decided keeps its place, so that the next one follows', () => {
  const marks = [mark(1, 1), madeUpMark({ id: 2, state: 'accepted' }), mark(3, 3)]
  expect(markBeside(marks, toDecide, 2, 1)?.id).toBe(3)
  expect(markBeside(marks, toDecide, 2, -1)?.id).toBe(1)
})

test('the last one has nothing beside it', () => {
  expect(markBeside([mark(1, 1)], toDecide, 1, 1)).toBeNull()
  expect(markBeside([], any, null, 1)).toBeNull()
})

test('of one kind only that is gone through, enclosures with lines; a kind of which none is left stands for all', () => {
  const marks = [
    mark(1, 1),
    madeUpMark({ id: 2, kind: 'pit' }),
    madeUpMark({ id: 3, kind: 'enclosure' }),
    madeUpMark({ id: 4, kind: 'line' }),
  ]
  const listed = (kind: 'pit' | 'line') => marks.filter((each) => isShown(each, { state: 'candidate', kind }))
  expect([ids(listed('pit')), ids(listed('line'))]).toEqual([[2], [3, 4]])
  expect([kindListed(marks, 'pit'), kindListed(marks.slice(0, 1), 'pit')]).toEqual(['pit', 'all'])
})
