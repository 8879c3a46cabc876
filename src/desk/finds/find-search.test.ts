import { expect, test } from 'vitest'
import { type FindRow, findColumns } from '#contract'
import { findRows } from './find-rows.ts'
import { searchFinds, sortFinds } from './find-search.ts'

const row = (values: Partial<FindRow>): FindRow => {
  const bare = Object.fromEntries(findColumns.map((column) => [column, null]))
  const texts = {
    object: '',
    material: '',
    period: '',
    condition: '',
    description: '',
    notes: '',
    finder: '',
  }
  return { ...(bare as unknown as FindRow), ...texts, whereNow: '', gridRef: '', photographs: 0, ...values }
}
const rows = [
  row({ id: 1, number: 'NST-2026-999', object: 'buckle', material: 'copper alloy', weightG: 4 }),
  row({ id: 2, number: 'NST-2026-1000', object: 'Thimble', notes: 'crushed flat', weightG: null }),
  row({
    id: 3,
    number: 'NST-2026-007',
    object: 'token',
    material: 'lead',
    weightG: 2.5,
    gridRef: 'TF 584 475',
  }),
]
const ids = (found: readonly FindRow[]) => found.map(({ id }) => id)

test('every word must stand somewhere, in any letters', () => {
  expect(ids(searchFinds(rows, 'COPPER buck'))).toEqual([1])
  expect(ids(searchFinds(rows, 'thimble flat'))).toEqual([2])
  expect(ids(searchFinds(rows, 'tf 584'))).toEqual([3])
  expect(ids(searchFinds(rows, 'buckle lead'))).toEqual([])
  expect(searchFinds(rows, '  ')).toBe(rows)
})

test('numbers are ordered as numbers, and what is not known comes last both ways', () => {
  expect(ids(sortFinds(rows, { column: 'number', descending: false }))).toEqual([3, 1, 2])
  expect(ids(sortFinds(rows, { column: 'weightG', descending: false }))).toEqual([3, 1, 2])
  expect(ids(sortFinds(rows, { column: 'weightG', descending: true }))).toEqual([1, 3, 2])
  expect(ids(sortFinds(rows, { column: 'object', descending: false }))).toEqual([1, 2, 3])
  expect(ids(sortFinds(rows, { column: 'material', descending: true }))).toEqual([3, 1, 2])
})

test('rows come by name from the columns of the list', () => {
  const list = { columns: ['number' as const, 'id' as const], rows: [['NST-2026-001', 7]] }
  expect(findRows(list)).toEqual([{ number: 'NST-2026-001', id: 7 }])
})
