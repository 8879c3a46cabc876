import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import {
  careFor,
  checkFind,
  type FindRecord,
  numberedFind,
  searchTerms,
  type Term,
  vocabularyOf,
} from './index.ts'

const { terms } = JSON.parse(
  readFileSync(new URL('../../../data/vocabularies/object-materials.json', import.meta.url), 'utf8'),
) as { terms: readonly Term[] }
const materials = vocabularyOf(terms)
const bare = numberedFind('NST-2026-001')
const matters = (change: Partial<FindRecord>): string[] =>
  careFor({ ...bare, ...change }, materials).map(({ about }) => about)
const written = (...texts: string[]) => texts.map((text) => ({ text, term: null }))
const coded = (name: string) => [{ text: '?', term: searchTerms(materials, name, 1)[0]!.term.key }]

test.each<[string, readonly string[]]>([
  ['iron', ['surface', 'iron']],
  ['copper alloy', ['surface', 'copper-alloy']],
  ['brass', ['surface', 'copper-alloy']],
  ['lead', ['surface', 'lead', 'lead-health']],
  ['pewter', ['surface', 'lead', 'lead-health']],
  ['silver', ['surface', 'ask']],
  ['leather', ['organic']],
  ['glass', ['glass']],
  ['flint', []],
  ['pottery', []],
])('%s brings %j, written or coded', (name, expected) => {
  expect(matters({ materials: written(name) })).toEqual(expected)
  expect(matters({ materials: coded(name) })).toEqual(expected)
})

test('a term counts by its broader terms: oak is wood', () => {
  expect(matters({ materials: coded('oak') })).toEqual(['organic'])
})

test('what was written of the state brings more', () => {
  expect(matters({ materials: written('bronze'), surface: 'powdery pale green spots' })).toContain(
    'active-corrosion',
  )
  expect(matters({ materials: written('iron'), surface: 'powdery' })).not.toContain('active-corrosion')
  expect(matters({ surface: 'textile on the back' })).toEqual(['traces'])
  expect(matters({ materials: written('copper alloy'), decoration: 'gilded' })).toContain('traces')
  expect(matters({ materials: written('wood'), condition: 'waterlogged' })).toEqual(['organic', 'wet'])
  expect(matters({})).toEqual([])
})

test('a warning says what led to it', () => {
  const [first] = careFor({ ...bare, materials: written('flint', 'Iron') }, materials)
  expect(first).toMatchObject({ about: 'surface', because: 'Iron' })
})

test.each<[Partial<FindRecord>, string]>([
  [{ number: 'bag 7' }, 'number'],
  [{ fromYear: 0 }, 'fromYear'],
  [{ toYear: 2200 }, 'toYear'],
  [{ fromYear: 10, toYear: -10 }, 'toYear'],
  [{ weightG: 0 }, 'weightG'],
  [{ weightG: Number.NaN }, 'weightG'],
  [{ depthCm: -1 }, 'depthCm'],
  [{ dieAxisH: 13 }, 'dieAxisH'],
  [{ count: 1.5 }, 'count'],
  [{ certainty: 'sure' as 'certain' }, 'certainty'],
  [{ damage: ['plough', 'fire' as 'old'] }, 'damage'],
])('%j cannot be', (change, field) => {
  expect(checkFind({ ...bare, ...change }).map((fault) => fault.field)).toEqual([field])
})

test('a find with its number only, one on the surface and one of 12 hours can be', () => {
  expect(checkFind(bare)).toEqual([])
  expect(checkFind({ ...bare, depthCm: 0, dieAxisH: 12, fromYear: -1, toYear: 1 })).toEqual([])
})
