import { useMemo } from 'react'
import { stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { knownFinds, useFinds } from './finds-data.ts'
import { findsView, openFind, picked, togglePicked } from './finds-state.ts'

const mostShown = 1000

/** Picks the finds of a findspot, or lets them go. */
export function pickAt(findspot: number): void {
  togglePicked(knownFinds().flatMap((row) => (row.findspot === findspot ? [row.id] : [])))
  findsView.set('catalogue')
  openFind.set(null)
}

/** Where the finds lie that are picked, while finds are looked at; the first thousand. */
export function usePickedPlaces(): readonly (readonly [number, number])[] {
  const rows = useFinds()
  const ids = useStore(picked)
  const here = useStore(stage) === 'finds'
  return useMemo(() => {
    if (!here || ids.size === 0) return []
    return rows
      .flatMap(({ id, easting, northing }): (readonly [number, number])[] =>
        ids.has(id) && easting !== null && northing !== null ? [[easting, northing]] : [],
      )
      .slice(0, mostShown)
  }, [rows, ids, here])
}
