import fc from 'fast-check'
import { expect, test } from 'vitest'
import { joinGroups } from './join-groups.ts'
import { type FindToJoin, joiningPairs } from './joining-pairs.ts'
import type { Pair } from './propose-joins.ts'

const at = (number: string, x: number, y: number): FindToJoin => ({ number, place: [x, y] })

test('the pairs are the nearest ones', () => {
  const finds = [at('A', 0, 0), at('B', 9, 0), at('C', 1, 0), { number: 'D', place: null }]
  expect(joiningPairs(finds, []).slice(0, 2)).toEqual([
    ['A', 'C'],
    ['B', 'C'],
  ])
  expect(joiningPairs(finds, [])).toHaveLength(3)
})

test('what is joined already is not asked for again', () => {
  expect(joiningPairs([at('A', 0, 0), at('B', 9, 0), at('C', 1, 0)], [['B', 'A']])).toEqual([['A', 'C']])
})

const finds = fc
  .uniqueArray(fc.integer({ min: 0, max: 99 }), { minLength: 2, maxLength: 12 })
  .chain((numbers) =>
    fc.tuple(
      ...numbers.map((number) =>
        fc.record({
          number: fc.constant(`N${number}`),
          place: fc.option(fc.tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 0, max: 99 })), {
            nil: null,
          }),
        }),
      ),
    ),
  )

test('the pairs and those joined already make one group, with no pair too many', () => {
  fc.assert(
    fc.property(finds, fc.array(fc.tuple(fc.nat(11), fc.nat(11)), { maxLength: 4 }), (list, some) => {
      const joined = some.flatMap(([i, j]): Pair[] =>
        i < j && j < list.length ? [[list[i]!.number, list[j]!.number]] : [],
      )
      const pairs = joiningPairs(list, joined)
      const groups = joinGroups([...joined, ...pairs])
      expect(groups.map(({ members }) => members.length)).toEqual([list.length])
      // A tree over the groups there were: as many pairs as groups less one.
      const apart = list.length - joinGroups(joined).reduce((sum, { members }) => sum + members.length - 1, 0)
      expect(pairs).toHaveLength(apart - 1)
    }),
  )
})

test('no other tree over the places is shorter', () => {
  const places = fc.array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 50 })), {
    minLength: 4,
    maxLength: 4,
  })
  fc.assert(
    fc.property(places, (xy) => {
      const list = xy.map(([x, y], i) => at(`N${i}`, x, y))
      const length = (pairs: readonly Pair[]): number =>
        pairs.reduce((sum, [a, b]) => {
          const [p, q] = [a, b].map((number) => list.find((one) => one.number === number)!.place!)
          return sum + Math.hypot(p![0] - q![0], p![1] - q![1])
        }, 0)
      const all = list.flatMap((a, i) => list.slice(i + 1).map((b): Pair => [a.number, b.number]))
      const trees = all.flatMap((p, i) =>
        all.slice(i + 1).flatMap((q, j) => all.slice(i + j + 2).map((r) => [p, q, r])),
      )
      const shortest = Math.min(
        ...trees.filter((tree) => joinGroups(tree)[0]!.members.length === 4).map(length),
      )
      expect(length(joiningPairs(list, []))).toBeCloseTo(shortest, 9)
    }),
  )
})
