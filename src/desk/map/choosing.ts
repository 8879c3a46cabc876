import type { AreaView, FindspotView, GapView } from '#contract'
import { pickAt } from '../finds/picked-places.ts'
import { pointing } from '../finds/pointing.ts'
import { takePlanClick } from '../lanes/plan-click.ts'
import { type Selection, selection, showStage, stage } from '../state/desk-state.ts'
import { boundsOfPolygons, goTo, plan } from './map-state.ts'

/** Chooses an area or a gap and goes there. */
export function goToPolygons(kind: 'area' | 'gap', item: AreaView | GapView): void {
  selection.set({ kind, id: item.id })
  goTo(boundsOfPolygons(item.polygons))
}

/** Chooses a findspot and brings it into sight. */
export function goToFindspot({ id, easting, northing }: FindspotView): void {
  selection.set({ kind: 'findspot', id })
  plan.get()?.lookAt(easting, northing)
}

/** Chooses a track and shows the whole of it. */
export function goToTrack(id: number): void {
  selection.set({ kind: 'track', id })
  const bounds = plan.get()?.boundsOfTrack(id) ?? null
  goTo(bounds)
}

/** What a click on the map means: the thing is chosen, and the panel that lists it is shown; with `more` a findspot's finds are picked instead. */
export function choseOnMap(chosen: Selection | null, more: boolean): void {
  if (more && chosen?.kind === 'findspot') {
    pickAt(chosen.id)
    showStage('finds')
    return
  }
  selection.set(chosen)
  if (chosen?.kind === 'findspot') showStage('finds')
  else if (chosen?.kind === 'target') showStage(stage.get() === 'plan' ? 'plan' : 'marks')
  else if (chosen?.kind === 'mark') showStage('marks')
  else if (chosen?.kind === 'gap' || chosen?.kind === 'track') showStage('visits')
}

/** Takes a click for what Plan or the find that waits for a place; false where none does. */
export function placedOnMap([easting = 0, northing = 0]: readonly number[]): boolean {
  if (takePlanClick([easting, northing])) return true
  const take = pointing.get()
  take?.([easting, northing])
  return take !== null
}
