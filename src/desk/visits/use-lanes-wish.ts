import { useMemo } from 'react'
import type { LanesWalkedWish } from '#contract'
import { useList } from '../api/queries.ts'
import { useStore } from '../state/store.ts'
import { comparedPlan, lanesCompared, laneTolerance, useVisitsChosen } from './visits-state.ts'

/** What is asked of the lanes of a plan; null while nothing is. A plan that has gone is asked for no more. */
export function useLanesWish(): LanesWalkedWish | null {
  const on = useStore(lanesCompared)
  const wanted = useStore(comparedPlan)
  const toleranceM = useStore(laneTolerance)
  const plans = useList('plans')
  const visits = useList('visits')
  const only = useVisitsChosen()
  return useMemo(() => {
    if (!on || plans.length === 0 || visits.length === 0) return null
    const plan = plans.some(({ id }) => id === wanted) ? wanted : null
    return { plan, only: only && [...only], toleranceM }
  }, [on, wanted, toleranceM, plans, visits, only])
}
