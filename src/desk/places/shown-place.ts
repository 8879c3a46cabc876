import type { PlaceView, SurveyView } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { queryClient, refreshSurvey } from '../api/queries.ts'
import { bringCard, showStage } from '../state/desk-state.ts'
import { createStore } from '../state/store.ts'

/** The place that was asked for: marked on the map, with its card. */
export const shownPlace = createStore<PlaceView | null>(null)

let asked = 0

/** Takes the place off the map. One that is still being asked for will not come. */
export function dropPlace(): void {
  asked += 1
  shownPlace.set(null)
}

const surveyNow = (): SurveyView | undefined => queryClient.getQueryData<SurveyView>(['survey'])

/** About 0.1 m: what two readings of one text may differ by. */
const sameDegrees = 1e-6

/** Gives an empty survey the grid that is usual at a place, and finds the place in it. */
async function beginAt(first: PlaceView, text: string): Promise<PlaceView> {
  await deskApi.startGrid(first.usualEpsg)
  await refreshSurvey()
  const again = await deskApi.place(text)
  const same = Math.abs(again.lat - first.lat) + Math.abs(again.lon - first.lon) < sameDegrees
  // Plain figures may mean another place in the new grid; the place that was first understood is the one that is meant.
  const place = same ? again : await deskApi.place(`${first.lat.toFixed(9)}, ${first.lon.toFixed(9)}`)
  return { ...place, text: first.text, warnings: first.warnings }
}

/**
 * Looks a place up and shows it; null where another was asked for meanwhile. A survey that knows no grid yet is begun there.
 * Faults: RequestError with the one sentence to show.
 */
export async function goToPlace(text: string): Promise<PlaceView | null> {
  asked += 1
  const mine = asked
  let place = await deskApi.place(text)
  if (mine !== asked) return null
  const begins = surveyNow()?.grid === null
  if (begins) place = await beginAt(place, text)
  if (mine !== asked) return null
  if (begins) showStage('land')
  else bringCard('place')
  shownPlace.set(place)
  return place
}
