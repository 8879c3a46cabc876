import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type FindRecord, numberedFind, searchTerms, type Term, vocabularyOf } from '#core/finds'
import {
  type Fragment,
  fragmentsOf,
  joinGroups,
  joinScatter,
  objectCounts,
  type Pair,
  pairOf,
  proposeJoins,
  togetherOf,
} from './index.ts'

const { terms } = JSON.parse(
  readFileSync(new URL('../../../data/vocabularies/object-materials.json', import.meta.url), 'utf8'),
) as { terms: readonly Term[] }
const materials = vocabularyOf(terms)
const coded = (name: string) => {
  const { term } = searchTerms(materials, name, 1)[0]!
  return { text: term.name, term: term.key }
}
const number = (k: number): string => `NST-2026-${String(k).padStart(3, '0')}`
const fragment = (k: number, change: Partial<Fragment> = {}): Fragment => ({
  number: number(k),
  x: 1000 + k,
  y: 2000,
  accuracyM: 3,
  material: coded('copper alloy'),
  objectType: null,
  thicknessMm: 2,
  curveMm: null,
  breaks: [],
  fromYear: null,
  toYear: null,
  ...change,
})
const options = { materials, spreadM: 20, farthestM: 200, leastScore: 0, most: 1000, decided: [] as Pair[] }
const scoreOf = (a: Partial<Fragment>, b: Partial<Fragment>): number | null =>
  proposeJoins([fragment(1, a), fragment(2, b)], options)[0]?.score ?? null

test('likeness raises the score and unlikeness lowers it, on every ground', () => {
  const plain = scoreOf({}, {})!
  expect(scoreOf({ thicknessMm: 2 }, { thicknessMm: 4 })).toBeLessThan(plain)
  expect(scoreOf({ curveMm: 60 }, { curveMm: 61 })).toBeGreaterThan(plain)
  expect(scoreOf({ curveMm: 60 }, { curveMm: 90 })).toBeLessThan(plain)
  expect(scoreOf({ breaks: ['plough'] }, { breaks: ['plough', 'old'] })).toBeGreaterThan(plain)
  expect(scoreOf({ breaks: ['plough'] }, { breaks: ['old'] })).toBeLessThan(plain)
  const pot = { text: 'Vessel', term: null }
  expect(scoreOf({ objectType: pot }, { objectType: { text: 'vessel ', term: null } })).toBeGreaterThan(plain)
  expect(scoreOf({}, { x: 1150 })).toBeLessThan(plain)
  expect(scoreOf({ material: null }, {})).toBeLessThan(plain)
})

test('pieces of other materials, of dates that do not meet, or too far away are not proposed', () => {
  expect(scoreOf({}, { material: coded('lead') })).toBeNull()
  expect(scoreOf({ fromYear: -800, toYear: -1 }, { fromYear: 43, toYear: 410 })).toBeNull()
  expect(scoreOf({}, { x: 1201.5 })).toBeNull()
  expect(scoreOf({}, { material: coded('bronze') })).not.toBeNull()
  expect(scoreOf({ fromYear: -800, toYear: 50 }, { fromYear: 43, toYear: 410 })).not.toBeNull()
})

test('a proposal says its reasons with their figures', () => {
  const [proposal] = proposeJoins([fragment(2), fragment(1, { thicknessMm: 2.1 })], options)
  expect(proposal!.pair).toEqual([number(1), number(2)])
  expect(proposal!.distanceM).toBe(1)
  expect(proposal!.reasons.map(({ text }) => text)).toEqual([
    'both Copper alloy',
    '1.0 m apart',
    '2 and 2.1 mm thick',
  ])
})

test('what was decided is not proposed again, in whatever order the pair is given', () => {
  const fragments = [fragment(1), fragment(2), fragment(3)]
  const decided: Pair[] = [[number(2), number(1)]]
  expect(proposeJoins(fragments, { ...options, decided }).map(({ pair }) => pair)).toEqual([
    [number(2), number(3)],
    [number(1), number(3)],
  ])
})

test('a short list is the head of the long one', () => {
  const fragments = Array.from({ length: 80 }, (_, k) =>
    fragment(k, { x: (k * 37) % 90, y: (k * 53) % 70, thicknessMm: 1 + ((k * 7) % 5) / 4 }),
  )
  const all = proposeJoins(fragments, options)
  expect(all.length).toBe(1000)
  expect(proposeJoins(fragments, { ...options, most: 7 })).toEqual(all.slice(0, 7))
})

test('all pairs within reach are weighed, and no other, whatever the order', () => {
  const anyPlace = fc.record({
    x: fc.double({ min: -300, max: 300, noNaN: true }),
    y: fc.double({ min: -300, max: 300, noNaN: true }),
  })
  fc.assert(
    fc.property(
      fc.array(anyPlace, { maxLength: 25 }),
      fc.double({ min: 1, max: 400, noNaN: true }),
      (spots, farthestM) => {
        const fragments = spots.map((spot, k) => fragment(k, spot))
        const near: string[] = []
        for (const [j, b] of fragments.entries()) {
          for (const a of fragments.slice(0, j)) {
            if ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 <= farthestM ** 2)
              near.push(pairOf(a.number, b.number).join())
          }
        }
        const found = proposeJoins(fragments, { ...options, farthestM })
        expect(found.map(({ pair }) => pair.join()).toSorted()).toEqual(near.toSorted())
        expect(
          proposeJoins(fragments.toReversed(), { ...options, farthestM }).map(({ pair }) => pair),
        ).toEqual(found.map(({ pair }) => pair))
        for (const { score } of found) expect(score > 0 && score < 1).toBe(true)
      },
    ),
  )
})

test('groups are the connected parts of the accepted pairs', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(12), fc.nat(12)), { maxLength: 20 }), (edges) => {
      const accepted = edges.map(([a, b]): Pair => [number(a), number(b)])
      const groups = joinGroups(accepted)
      const groupOf = new Map(
        groups.flatMap(({ members }, g) => members.map((one): [string, number] => [one, g])),
      )
      // Spread a label until nothing changes: slow, and plainly right.
      const label = new Map(accepted.flat().map((one): [string, string] => [one, one]))
      for (let changed = true; changed; ) {
        changed = false
        for (const [a, b] of accepted) {
          const low = [label.get(a)!, label.get(b)!].toSorted()[0]!
          if (label.get(a) !== low || label.get(b) !== low) changed = true
          label.set(a, low).set(b, low)
        }
      }
      for (const a of label.keys()) {
        for (const b of label.keys()) {
          if (a === b) continue
          expect(groupOf.has(a) && groupOf.get(a) === groupOf.get(b)).toBe(label.get(a) === label.get(b))
        }
      }
      for (const { members, pairs } of groups) {
        expect(members.length).toBeGreaterThan(1)
        expect(pairs.length).toBeGreaterThanOrEqual(members.length - 1)
      }
    }),
  )
})

const find = (k: number, change: Partial<FindRecord> = {}): FindRecord => ({
  ...numberedFind(number(k)),
  ...change,
})

test('three joined pieces, a whole coin and two loose ones are four objects at most and two at least', () => {
  const vessel = { objectType: { text: 'Vessel', term: null }, completeness: 'fragment' as const }
  const finds = [
    find(1, vessel),
    find(2, vessel),
    find(3, vessel),
    find(4, { objectType: { text: 'Coin', term: null }, completeness: 'complete' }),
    find(5, { ...vessel, count: 2 }),
  ]
  const groups = joinGroups([
    [number(1), number(2)],
    [number(3), number(2)],
  ])
  expect(objectCounts(finds, groups)).toEqual({ finds: 5, pieces: 6, most: 4, least: 2 })
  expect(objectCounts([], [])).toEqual({ finds: 0, pieces: 0, most: 0, least: 0 })
})

test('joined pieces 3 and 4 m off draw together, worked on paper', () => {
  const places = [
    { number: 'a', x: 0, y: 0 },
    { number: 'b', x: 3, y: 0 },
    { number: 'c', x: 3, y: 4 },
    { number: 'd', x: 2, y: 16 },
  ]
  const groups = joinGroups([
    ['a', 'b'],
    ['b', 'c'],
    ['d', 'e'],
  ])
  const scatter = joinScatter(places, groups)
  expect(scatter.lines).toEqual([
    { from: 'a', to: 'b', distanceM: 3, bearing: 90 },
    { from: 'b', to: 'c', distanceM: 4, bearing: 0 },
  ])
  expect(scatter).toMatchObject({ meanM: 3.5, medianM: 3.5, longestM: 4, points: 4, objects: 2 })
  const together = togetherOf(places, groups)
  expect(together.map(({ number: one }) => one)).toEqual(['a', 'd'])
  expect(together[0]!.x).toBeCloseTo(2, 12)
  expect(together[0]!.y).toBeCloseTo(4 / 3, 12)
  // Two points at distance d from each other: each d / 2 from the centre.
  expect(scatter.standardDistanceOfObjectsM).toBeCloseTo((16 - 4 / 3) / 2, 12)
  expect(joinScatter([], [])).toMatchObject({ meanM: null, longestM: null, standardDistanceM: null })
})

test('whole objects and finds without a place are no fragments', () => {
  const place = { easting: 1, northing: 2, accuracyM: null }
  const finds = [
    find(1, { completeness: 'complete' }),
    find(2, { completeness: 'fragment', diameterMm: 60 }),
    find(3),
  ]
  const placeOf = (one: FindRecord) => (one.number === number(3) ? null : place)
  expect(fragmentsOf(finds, placeOf)).toMatchObject([{ number: number(2), curveMm: 60, x: 1, y: 2 }])
})

test('wrong calls are refused', () => {
  expect(() => proposeJoins([], { ...options, spreadM: 0 })).toThrow(RangeError)
})
