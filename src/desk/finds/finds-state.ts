import type { FindRow } from '#contract'
import { plan } from '../map/map-state.ts'
import { selection } from '../state/desk-state.ts'
import { rememberedFlag } from '../state/remembered.ts'
import { createStore } from '../state/store.ts'
import { filterColumn, takeUpFilters } from './filter-state.ts'
import type { SortOrder } from './find-search.ts'
import { pointing } from './pointing.ts'

/** The ways to look at the finds. */
export const findViews = ['catalogue', 'check-in', 'joins', 'dating', 'words'] as const
export type FindsView = (typeof findViews)[number]
export const findsView = createStore<FindsView>('catalogue')

/** The find whose record is open. */
export const openFind = createStore<number | null>(null)
/** True while the panel has the room of most of the page. */
export const wideCatalogue = rememberedFlag('wide-catalogue', false)
/** Finds picked for one change together. */
export const picked = createStore<ReadonlySet<number>>(new Set())
export function togglePicked(ids: readonly number[]): void {
  picked.set((now) => {
    const next = new Set(now)
    for (const id of ids) if (!next.delete(id)) next.add(id)
    return next
  })
}
/** A key that picks everything that is listed. */
export function picksAll({
  ctrlKey,
  metaKey,
  key,
}: Pick<KeyboardEvent, 'ctrlKey' | 'metaKey' | 'key'>): boolean {
  return (ctrlKey || metaKey) && key.toLowerCase() === 'a'
}
/** True while the catalogue is shown as cards, not as a table. */
export const asCards = rememberedFlag('find-cards', false)
/** What is written in the search box. */
export const searchText = createStore('')
export const sortOrder = createStore<SortOrder>({ column: 'number', descending: false })
/** True while the form to enter a find is open. */
export const entering = createStore(false)
/** The find that pictures dropped on the page go to, with its number; null while no record is open. */
export const photographTarget = createStore<{ readonly id: number; readonly number: string } | null>(null)
/** Opens a find and brings its findspot into sight on the map. */
export function goToFind(find: Pick<FindRow, 'id' | 'findspot' | 'easting' | 'northing'>): void {
  openFind.set(find.id)
  if (find.findspot === null) return
  selection.set({ kind: 'findspot', id: find.findspot })
  if (find.easting !== null && find.northing !== null) plan.get()?.lookAt(find.easting, find.northing)
}

/** Closes the record that is open, and lets go of its findspot. */
export function closeFind(): void {
  openFind.set(null)
  if (selection.get()?.kind === 'findspot') selection.set(null)
}

/** What was picked and opened belongs to the survey that was open; the one that is open now has filters of its own. */
export function forgetFinds(file: string): void {
  openFind.set(null)
  picked.set(new Set())
  searchText.set('')
  takeUpFilters(file)
  filterColumn.set(null)
  photographTarget.set(null)
  pointing.set(null)
}
