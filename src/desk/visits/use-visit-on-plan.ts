import { useEffect, useMemo } from 'react'
import { useLanesWalked, useList, useVisitWalk } from '../api/queries.ts'
import { useListedFindspots } from '../finds/shown-finds.ts'
import type { Plan } from '../map/plan.ts'
import { stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { walkedLines } from './lane-lines.ts'
import { useLanesWish } from './use-lanes-wish.ts'
import { openVisit, replayAt } from './visits-state.ts'

/** The speed up to which the coil of a visit leaves nothing out straight ahead, metres a second; endless where it is not told. */
function useSafeSpeed(visit: number | null): number {
  const found = useList('visits').find(({ id }) => id === visit)
  return found?.coilM != null && found.rateHz !== null ? found.coilM * found.rateHz : Infinity
}

/** Shows the plan as it was walked, where that is asked for; and the open visit: its speeds, or at a moment of its replay the walk so far; and the findspots found by then. */
export function useVisitOnPlan(made: Plan | null): void {
  const here = useStore(stage) === 'visits'
  const open = useStore(openVisit)
  const moment = useStore(replayAt)
  const visit = here ? open : null
  const at = visit === null ? null : moment
  const findspots = useListedFindspots()
  const { data: walk } = useVisitWalk(visit)
  const safeMS = useSafeSpeed(visit)
  const shown = useMemo(
    () =>
      at === null
        ? findspots
        : findspots.filter(({ time }) => time === null || Date.parse(time) / 1000 <= at),
    [findspots, at],
  )
  useEffect(() => made?.showFindspots(shown), [made, shown])
  const wish = useLanesWish()
  const { data: lanes } = useLanesWalked(here ? wish : null)
  const lines = useMemo(
    () => (here && wish !== null && lanes ? walkedLines(lanes) : null),
    [here, wish, lanes],
  )
  useEffect(() => made?.land.showWalked(lines), [made, lines])
  const drawn = visit === null ? null : (walk ?? null)
  useEffect(() => made?.walk.show(drawn, safeMS, at), [made, drawn, safeMS, at])
}
