import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { broaderTerms, searchTerms, type Term, vocabularyOf } from './index.ts'

const read = <T extends Term>(name: string): { terms: readonly T[] } =>
  JSON.parse(readFileSync(new URL(`../../../data/vocabularies/${name}.json`, import.meta.url), 'utf8'))
const materials = vocabularyOf(read('object-materials').terms)
const periods = vocabularyOf(read<Term & { from: number; to: number }>('periods').terms)

// Rows of the tables of the thesaurus as published (version 29): 112 uses, 117 terms of which 5 are not preferred, 5 preferences, 2 not for use.
test('the materials are as many as the source counts', () => {
  expect(materials.terms).toHaveLength(112)
  expect(materials.terms.flatMap(({ otherNames }) => otherNames)).toHaveLength(5)
  expect(materials.terms.filter(({ heading }) => heading === true)).toHaveLength(2)
})

test('every term resolves up to the one top term', () => {
  for (const { key } of materials.terms) {
    const top = broaderTerms(materials, key).at(-1) ?? materials.byKey.get(key)
    expect(top!.name).toBe('Object material')
  }
})

// 149 rows as published, three of them without years.
test('the periods are as many as the source dates, and run forwards', () => {
  expect(periods.terms).toHaveLength(146)
  expect(periods.terms.filter(({ from, to }) => !(from < to) || from === 0 || to === 0)).toEqual([])
})

test('the broader terms of a copper alloy are those of the source', () => {
  const brass = searchTerms(materials, 'brass', 1)[0]!.term
  expect(broaderTerms(materials, brass.key).map(({ name }) => name)).toEqual([
    'Alloy',
    'Metal',
    'Object material',
  ])
  const alloy = materials.terms.find(({ name }) => name === 'Copper alloy')!
  expect(materials.narrower.get(alloy.broader!)!.map(({ name }) => name)).toContain('Bronze')
})

const namesFor = (text: string): string[] => searchTerms(materials, text, 5).map(({ term }) => term.name)

test('what begins with what was typed comes first', () => {
  expect(namesFor('copp')).toEqual(['Copper', 'Copper alloy'])
  expect(namesFor('all')).toEqual(['Alloy', 'Lead alloy', 'Copper alloy', 'Metal'].slice(0, 3))
  expect(namesFor('copper alloy')[0]).toBe('Copper alloy')
  expect(namesFor('allo cop')).toEqual(['Copper alloy'])
  expect(namesFor('lead')).toEqual(['Lead', 'Lead alloy'])
})

test('another name leads to its term and says so', () => {
  expect(searchTerms(materials, 'aluminum', 3)).toMatchObject([
    { term: { name: 'Aluminium' }, by: 'Aluminum' },
  ])
  expect(searchTerms(periods, 'romano', 3)).toMatchObject([{ term: { key: 'he:RO' }, by: 'Romano-British' }])
})

test('headings, nothing and nonsense find nothing', () => {
  for (const text of ['object material', '', '  ', '!?', 'zzz']) expect(namesFor(text)).toEqual([])
})

test('every term is found first by its own name, however it is written', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...materials.terms.filter(({ heading }) => !heading)),
      fc.boolean(),
      (term, upper) => {
        const typed = upper ? term.name.toUpperCase() : ` ${term.name.toLowerCase()} `
        expect(searchTerms(materials, typed, 1)[0]!.term).toBe(term)
      },
    ),
  )
})

test('a broken vocabulary is refused', () => {
  const term = (key: string, broader: string | null): Term => ({ key, name: key, otherNames: [], broader })
  expect(() => vocabularyOf([term('a', null), term('a', null)])).toThrow(RangeError)
  expect(() => vocabularyOf([term('a', 'b')])).toThrow(RangeError)
  expect(broaderTerms(vocabularyOf([term('a', 'b'), term('b', 'a')]), 'a').map(({ key }) => key)).toEqual([
    'b',
  ])
})
