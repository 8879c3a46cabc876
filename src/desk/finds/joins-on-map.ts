import { useEffect } from 'react'
import type { FindRow, JoinView } from '#contract'
import { measuredText } from '#ui'
import type { JoinLine } from '../map/join-layer.ts'
import type { Plan } from '../map/plan.ts'
import { stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { useFinds, useJoins } from './finds-data.ts'
import { findsView } from './finds-state.ts'

/** Lines for the joins of which both findspots are known; rejected ones have none. */
function joinLines(joins: readonly JoinView[], rows: readonly FindRow[]): JoinLine[] {
  const byId = new Map(rows.map((row) => [row.id, row]))
  const place = (id: number): readonly [number, number] | null => {
    const row = byId.get(id)
    return row && row.easting !== null && row.northing !== null ? [row.easting, row.northing] : null
  }
  return joins.flatMap(({ first, second, state, distanceM }) => {
    const [from, to] = [place(first), place(second)]
    if (state === 'rejected' || from === null || to === null || distanceM === null) return []
    return [{ from, to, accepted: state === 'accepted', text: measuredText(distanceM) }]
  })
}

/** Draws accepted joins while the finds are looked at, and those put forward while joins are. */
export function useJoinsOnPlan(made: Plan | null): void {
  const at = useStore(stage)
  const view = useStore(findsView)
  const joins = useJoins()
  const rows = useFinds()
  useEffect(() => {
    const shown =
      at !== 'finds' ? [] : view === 'joins' ? joins : joins.filter(({ state }) => state === 'accepted')
    made?.showJoins(joinLines(shown, rows))
  }, [made, at, view, joins, rows])
}
