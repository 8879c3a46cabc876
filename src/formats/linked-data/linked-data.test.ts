import { expect, test } from 'vitest'
import { type FindRecord, numberedFind } from '#core/finds'
import { linkedFinds } from './index.ts'

const survey = { uuid: '6f1c0a1e-8d3b-4a52-9c77-0e4f5b6a7d81', title: 'Ninestile' }
const bare = numberedFind('NST-2026-001')
const full: FindRecord = {
  ...bare,
  finder: 'SECRET finder',
  notes: 'SECRET note',
  whereNow: 'SECRET box',
  visit: '00000000-0000-4000-8000-000000000000',
  signalNote: 'SECRET signal',
  objectType: { text: 'Coin', term: null },
  materials: [{ text: 'Silver', term: 'fish:75401' }],
  period: { text: 'Iron Age', term: 'he:IA' },
  fromYear: -50,
  toYear: -1,
  certainty: 'probable',
  count: 1,
  weightG: 1.25,
  diameterMm: 12.5,
  description: 'A “quoted” coin',
  parallels: ['A book, no. 5'],
}
type Found = { readonly [key: string]: Found } & readonly Found[] & string
const read = (
  finds: readonly FindRecord[],
  placeOf: Parameters<typeof linkedFinds>[1]['placeOf'] = () => null,
) => JSON.parse(linkedFinds(finds, { survey, placeOf })) as { '@context': Found; '@graph': Found[] }

test('every name in the file is one that the file explains', () => {
  const { '@context': context, '@graph': graph } = read([full], () => ({
    label: 'Ninestile',
    wkt: 'POINT (0.4 53)',
  }))
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(walk)
    else if (typeof value === 'object' && value !== null) {
      for (const [key, inner] of Object.entries(value)) {
        expect(Object.keys(context)).toContain(key)
        if (key === 'type') expect(Object.keys(context)).toContain(inner)
        walk(inner)
      }
    }
  }
  walk(graph)
})

test('a coin is told in the classes of the standard', () => {
  const [set, coin] = read([full])['@graph'] as [Found, Found]
  expect(set).toMatchObject({ type: 'Set', _label: 'Ninestile' })
  expect(coin).toMatchObject({
    id: `urn:uuid:${survey.uuid}#NST-2026-001`,
    type: 'HumanMadeObject',
    made_of: [{ type: 'Material', _label: 'Silver', identified_by: [{ content: 'fish:75401' }] }],
    dimension: [
      { value: 1.25, unit: { id: 'aat:300379225' } },
      { value: 12.5, unit: { id: 'aat:300379097' } },
    ],
    produced_by: {
      // 1 BC is the year 0000, so 50 BC is -0049.
      timespan: {
        begin_of_the_begin: '-0049-01-01T00:00:00Z',
        end_of_the_end: '0000-12-31T23:59:59Z',
        _label: 'date probable',
      },
      during: [{ type: 'Period', _label: 'Iron Age' }],
    },
  })
})

test('what is personal stays out, and the place unless it is given', () => {
  const text = linkedFinds([full], { survey, placeOf: () => null })
  expect(text).not.toContain('SECRET')
  expect(text).not.toContain(full.visit)
  expect(text).not.toContain('"Encounter",')
  expect(linkedFinds([full], { survey, placeOf: () => ({ label: 'TF 57', wkt: null }) })).toContain('TF 57')
})

test('a find of which only the number is known is told with it alone', () => {
  const [, coin] = read([bare])['@graph'] as [Found, Found]
  expect(Object.keys(coin).toSorted()).toEqual(['_label', 'id', 'identified_by', 'member_of', 'type'])
})
