import { useQuery } from '@tanstack/react-query'
import { useEffect, useMemo } from 'react'
import { deskApi } from '../api/desk-api.ts'
import { useList, useSurvey } from '../api/queries.ts'
import { pointed } from '../map/map-state.ts'
import type { Plan } from '../map/plan.ts'
import { stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { bearingLine } from './bearing-state.ts'
import { laneForm, openPlan, previewState, shownLaneCount, wantedClick } from './lanes-state.ts'

/** Keeps the map showing lanes in Plan (those of the open plan, else those being planned), what is to be left alone, and in Land the boundaries of permissions. */
export function useLanesOnPlan(made: Plan | null): void {
  const here = useStore(stage) === 'plan'
  const wanted = useStore(openPlan)
  const plans = useList('plans')
  // One that Undo or another program took away is open no more.
  const open = plans.some(({ id }) => id === wanted) ? wanted : null
  const { preview } = useStore(previewState)
  const constraints = useList('constraints')
  const file = useSurvey().survey?.file
  const { data: kept } = useQuery({
    queryKey: ['lanes', file, open],
    enabled: here && open !== null,
    queryFn: () => deskApi.lanesOf(open ?? 0),
  })
  const shown = useMemo(() => {
    if (!here) return null
    if (open !== null) return kept ? { lanes: kept, ways: [] } : null
    return preview && { lanes: preview.lanes, ways: preview.ways }
  }, [here, open, kept, preview])
  useEffect(() => made?.land.showLanes(shown), [made, shown])
  useEffect(() => shownLaneCount.set(shown?.lanes.length ?? 0), [shown])
  useEffect(() => made?.land.showConstraints(constraints), [made, constraints])
  const permissions = useList('permissions')
  const land = useStore(stage) === 'land'
  useEffect(() => made?.land.showBoundaries(land ? permissions : []), [made, land, permissions])
  useGuideOnPlan(made, here)
}

/** Keeps the line that lanes are to lie along on the map; while its other end is waited for it follows the pointer. */
function useGuideOnPlan(made: Plan | null, here: boolean): void {
  const line = useStore(bearingLine)
  const waiting = useStore(wantedClick) === 'line'
  const along = useStore(laneForm).pattern !== 'spiral'
  useEffect(() => {
    if (!here || !along) return made?.land.showGuide([])
    made?.land.showGuide(line.length === 2 ? line : [])
    const [first] = line
    if (!waiting || !first || line.length > 1) return
    const stop = pointed.watch(() => {
      const [easting, northing] = pointed.get() ?? []
      if (easting !== undefined && northing !== undefined) made?.land.showGuide([first, [easting, northing]])
    })
    return () => void stop()
  }, [made, here, along, line, waiting])
}
