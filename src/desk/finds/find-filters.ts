import type { FindRow } from '#contract'

/** What a column is asked for: a text that stands in it, values of which it has one, or a range that holds it. */
export interface ColumnFilter {
  /** In any case; empty asks nothing. */
  readonly text: string
  /** Values as `valuesOf` gives them, '' for what is not recorded; none asks nothing. */
  readonly of: readonly string[]
  /** Both ends belong to it. Numbers, or days as 2026-09-12; null is open. */
  readonly from: number | string | null
  readonly to: number | string | null
}

export const noFilter: ColumnFilter = { text: '', of: [], from: null, to: null }

/** Filters by column; a find must pass them all. */
export type ColumnFilters = Readonly<Partial<Record<keyof FindRow, ColumnFilter>>>

/** How a column is asked. */
export type FilterKind = 'range' | 'days' | 'words'

const ranges: ReadonlySet<keyof FindRow> = new Set([
  ...(['fromYear', 'toYear', 'count', 'weightG', 'lengthMm', 'widthMm'] as const),
  ...(['thicknessMm', 'diameterMm', 'depthCm', 'photographs'] as const),
])

export function filterKind(column: keyof FindRow): FilterKind {
  if (ranges.has(column)) return 'range'
  return column === 'foundAt' ? 'days' : 'words'
}

export const isAsking = ({ text, of, from, to }: ColumnFilter): boolean =>
  text.trim() !== '' || of.length > 0 || from !== null || to !== null

/** What a cell holds, for choosing: each material by itself, and '' where nothing is recorded. */
function valuesOf(row: FindRow, column: keyof FindRow): readonly string[] {
  const value = row[column]
  if (value === null || value === '') return ['']
  return column === 'material' ? String(value).split('; ') : [String(value)]
}

/** Every value of a column with how many finds have it, the commonest first. Cost: one pass. */
export function valueCounts(
  rows: readonly FindRow[],
  column: keyof FindRow,
): readonly (readonly [value: string, count: number])[] {
  const counts = new Map<string, number>()
  for (const row of rows)
    for (const value of valuesOf(row, column)) counts.set(value, (counts.get(value) ?? 0) + 1)
  return [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1))
}

function passes(row: FindRow, column: keyof FindRow, { text, of, from, to }: ColumnFilter): boolean {
  const value = row[column]
  if (
    text.trim() !== '' &&
    !String(value ?? '')
      .toLowerCase()
      .includes(text.trim().toLowerCase())
  )
    return false
  if (of.length > 0 && !valuesOf(row, column).some((one) => of.includes(one))) return false
  if (from === null && to === null) return true
  if (value === null || value === '') return false
  const held = column === 'foundAt' ? String(value).slice(0, 10) : value
  return (from === null || held >= from) && (to === null || held <= to)
}

/** The finds that pass every filter, in their order; the same array where nothing is asked. Cost: one pass. */
export function filterFinds(rows: readonly FindRow[], filters: ColumnFilters): readonly FindRow[] {
  const asked = (Object.entries(filters) as [keyof FindRow, ColumnFilter][]).filter(([, one]) =>
    isAsking(one),
  )
  if (asked.length === 0) return rows
  return rows.filter((row) => asked.every(([column, one]) => passes(row, column, one)))
}

/** A filter in words: 'copper alloy or lead', '5 to 20', 'holds "worn"'. */
export function filterText({ text, of, from, to }: ColumnFilter): string {
  const parts = []
  if (of.length > 0) parts.push(of.map((value) => value || 'not recorded').join(' or '))
  if (text.trim() !== '') parts.push(`holds “${text.trim()}”`)
  if (from !== null && to !== null) parts.push(`${from} to ${to}`)
  else if (from !== null) parts.push(`from ${from}`)
  else if (to !== null) parts.push(`up to ${to}`)
  return parts.join(', ')
}
