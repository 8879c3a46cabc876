import type { FindRow } from '#contract'

/** What is searched of a find, in small letters. */
function searched(row: FindRow): string {
  return [
    row.number,
    row.object,
    row.material,
    row.period,
    row.condition,
    row.description,
    row.notes,
    row.finder,
    row.whereNow,
    row.visit,
    row.gridRef,
  ]
    .join('\n')
    .toLowerCase()
}

const texts = new WeakMap<FindRow, string>()

function textOf(row: FindRow): string {
  const known = texts.get(row)
  if (known !== undefined) return known
  const made = searched(row)
  texts.set(row, made)
  return made
}

/**
 * The finds in which every word of `search` stands somewhere; upper and lower case are alike. What is searched of a find is written down once.
 * Cost: one pass; 50,000 finds take some milliseconds (bench/finds.ts).
 */
export function searchFinds(rows: readonly FindRow[], search: string): readonly FindRow[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean)
  if (words.length === 0) return rows
  return rows.filter((row) => {
    const text = textOf(row)
    return words.every((word) => text.includes(word))
  })
}

type SortColumn = keyof FindRow
export interface SortOrder {
  readonly column: SortColumn
  readonly descending: boolean
}

/** A number's running figures filled up, so that 1000 comes after 999. */
const numberKey = (number: string): string => number.replace(/\d+$/, (figures) => figures.padStart(9, '0'))

function sortKey(row: FindRow, column: SortColumn): string | number | null {
  const value = row[column]
  if (column === 'number') return numberKey(row.number)
  if (typeof value === 'string') return value === '' ? null : value.toLowerCase()
  return value
}

/** A new order of rows; what is not known comes last whichever way it goes, and equals keep their order. Cost: n log n. */
export function sortFinds(rows: readonly FindRow[], { column, descending }: SortOrder): readonly FindRow[] {
  const keyed = rows.map((row) => ({ row, key: sortKey(row, column) }))
  const way = descending ? -1 : 1
  keyed.sort((a, b) => {
    if (a.key === b.key) return 0
    if (a.key === null) return 1
    if (b.key === null) return -1
    return a.key < b.key ? -way : way
  })
  return keyed.map(({ row }) => row)
}
