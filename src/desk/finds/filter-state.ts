import type { FindRow } from '#contract'
import { createStore } from '../state/store.ts'
import { type ColumnFilter, type ColumnFilters, isAsking } from './find-filters.ts'

const keyOf = (file: string): string => `lynchet.find-filters ${file}`

/** What the columns are asked for. */
export const columnFilters = createStore<ColumnFilters>({})
let survey: string | null = null
columnFilters.watch(() => {
  if (survey === null) return
  try {
    sessionStorage.setItem(keyOf(survey), JSON.stringify(columnFilters.get()))
  } catch {
    // A private window may refuse; the filters then last as long as the page.
  }
})

/** Goes over to the filters that this survey was left with in this session of the browser. */
export function takeUpFilters(file: string): void {
  survey = file
  try {
    columnFilters.set(JSON.parse(sessionStorage.getItem(keyOf(file)) ?? '{}') as ColumnFilters)
  } catch {
    columnFilters.set({})
  }
}

/** The column whose filter is being written; null while none is. */
export const filterColumn = createStore<keyof FindRow | null>(null)

/** Asks a column for something else; a filter that asks nothing is taken away. */
export function setFilter(column: keyof FindRow, filter: ColumnFilter): void {
  columnFilters.set(({ [column]: _, ...others }) =>
    isAsking(filter) ? { ...others, [column]: filter } : others,
  )
}

export function clearFilters(): void {
  columnFilters.set({})
}
