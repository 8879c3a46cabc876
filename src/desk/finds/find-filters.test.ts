import { expect, test } from 'vitest'
import { type FindRow, findColumns } from '#contract'
import { type ColumnFilters, filterFinds, filterText, noFilter, valueCounts } from './find-filters.ts'

function row(id: number, values: Partial<FindRow>): FindRow {
  const bare = Object.fromEntries(findColumns.map((column) => [column, null]))
  return { ...bare, id, object: '', material: '', period: '', condition: '', ...values } as unknown as FindRow
}

const rows = [
  row(1, {
    object: 'buckle',
    material: 'copper alloy; iron',
    weightG: 4,
    foundAt: '2026-09-12T10:00:00.000Z',
  }),
  row(2, { object: 'Buckle loop', material: 'iron', weightG: 20, foundAt: '2026-09-13T10:00:00.000Z' }),
  row(3, { object: 'thimble', material: '', weightG: null, foundAt: null }),
]
const left = (filters: ColumnFilters): number[] => filterFinds(rows, filters).map(({ id }) => id)

test('a find must pass every filter', () => {
  expect(left({ object: { ...noFilter, text: ' BUCK ' } })).toEqual([1, 2])
  expect(left({ material: { ...noFilter, of: ['iron'] } })).toEqual([1, 2])
  expect(left({ material: { ...noFilter, of: ['copper alloy', ''] } })).toEqual([1, 3])
  expect(
    left({ object: { ...noFilter, text: 'buck' }, material: { ...noFilter, of: ['copper alloy'] } }),
  ).toEqual([1])
})

test('both ends of a range belong to it, and what is not known lies in none', () => {
  expect(left({ weightG: { ...noFilter, from: 4, to: 20 } })).toEqual([1, 2])
  expect(left({ weightG: { ...noFilter, from: 4.1 } })).toEqual([2])
  expect(left({ foundAt: { ...noFilter, from: '2026-09-12', to: '2026-09-12' } })).toEqual([1])
})

test('nothing asked leaves the list as it is', () => {
  expect(filterFinds(rows, { object: noFilter })).toBe(rows)
})

test('the values of a column are counted, each material by itself', () => {
  expect(valueCounts(rows, 'material')).toEqual([
    ['iron', 2],
    ['', 1],
    ['copper alloy', 1],
  ])
})

test('a filter says what it asks', () => {
  expect(filterText({ ...noFilter, of: ['lead', ''] })).toBe('lead or not recorded')
  expect(filterText({ ...noFilter, from: 5, to: 20 })).toBe('5 to 20')
  expect(filterText({ ...noFilter, text: 'worn', to: '2026-09-12' })).toBe('holds “worn”, up to 2026-09-12')
})
