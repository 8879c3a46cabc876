import type { FindsTableReply, TableColumn } from '#contract'
import { openDialog } from '../state/desk-state.ts'
import { createStore } from '../state/store.ts'

/** The table of finds that is being looked at. */
export const tableFile = createStore<File | null>(null)

/** Shows what a table would do. */
export function lookAtTable(file: File): void {
  tableFile.set(file)
  openDialog.set('finds-table')
}

const keyOf = (key: string): string => `lynchet.columns.${key}`.slice(0, 500)

/** Remembers in this browser how the columns of a table were read, by its headings. */
export function rememberColumns({ key, columns }: FindsTableReply): void {
  try {
    localStorage.setItem(keyOf(key), JSON.stringify(columns.map(({ column }) => column)))
  } catch {
    // Then they are guessed anew.
  }
}

/** How they were read before, where that differs from what the headings say; null where it does not. */
export function rememberedColumns({ key, columns, choices }: FindsTableReply): readonly TableColumn[] | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(keyOf(key)) ?? 'null')
    if (!Array.isArray(kept) || kept.length !== columns.length) return null
    const known = new Set([null, ...choices.map(({ column }) => column)])
    if (
      !kept.every((column) => known.has(column)) ||
      kept.every((column, i) => column === columns[i]!.column)
    )
      return null
    return columns.map((one, i) => (one.column === kept[i] ? one : { ...one, column: kept[i], unit: null }))
  } catch {
    return null
  }
}
