import { useDeferredValue, useEffect, useMemo } from 'react'
import type { FindRow, FindspotView } from '#contract'
import { useList } from '../api/queries.ts'
import { stage } from '../state/desk-state.ts'
import { createStore, useStore } from '../state/store.ts'
import { columnFilters } from './filter-state.ts'
import { filterFinds } from './find-filters.ts'
import { searchFinds, sortFinds } from './find-search.ts'
import { searchText, sortOrder } from './finds-state.ts'

/** The findspots of the finds that search and filters leave; null while the catalogue lists all. */
const listed = createStore<ReadonlySet<number> | null>(null)

/** The finds that search and filters leave, in the order asked for. The map shows their findspots alone as long as the catalogue stands. */
export function useShownFinds(rows: readonly FindRow[]): readonly FindRow[] {
  const wanted = useDeferredValue(useStore(searchText))
  const order = useStore(sortOrder)
  const filters = useStore(columnFilters)
  const sorted = useMemo(() => sortFinds(rows, order), [rows, order])
  const shown = useMemo(() => searchFinds(filterFinds(sorted, filters), wanted), [sorted, filters, wanted])
  const all = shown.length === rows.length
  useEffect(() => {
    const spots = shown.flatMap(({ findspot }) => (findspot === null ? [] : [findspot]))
    listed.set(all ? null : new Set(spots))
    return () => listed.set(null)
  }, [shown, all])
  return shown
}

/** The findspots that the map shows: while finds are looked at, those of the finds that are listed. */
export function useListedFindspots(): readonly FindspotView[] {
  const findspots = useList('findspots')
  const only = useStore(listed)
  const here = useStore(stage) === 'finds'
  return useMemo(
    () => (here && only !== null ? findspots.filter(({ id }) => only.has(id)) : findspots),
    [findspots, only, here],
  )
}
