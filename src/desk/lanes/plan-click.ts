import { deskApi } from '../api/desk-api.ts'
import { knownList, refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { selection } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { takeLinePlace } from './bearing-state.ts'
import { changeForm, wantedClick } from './lanes-state.ts'

/** What a target is called that is given no name. */
export const nextTargetName = (): string => `Target ${knownList('targets').length + 1}`

/** Adds a target and chooses it. Faults: RequestError. */
export async function addTarget(name: string, easting: number, northing: number): Promise<void> {
  const target = await deskApi.addTarget({ name, easting, northing })
  await refreshSurvey()
  selection.set({ kind: 'target', id: target.id })
}

/** Takes a click on the map for what waits for one in Plan; true if it was taken. */
export function takePlanClick([easting = 0, northing = 0]: readonly number[]): boolean {
  const wanted = wantedClick.get()
  if (wanted === null) return false
  if (wanted === 'line') {
    takeLinePlace([easting, northing])
    return true
  }
  wantedClick.set(null)
  if (wanted === 'start') changeForm({ start: [easting, northing] })
  else
    addTarget(nextTargetName(), easting, northing).catch((error: unknown) =>
      tellFault(new Error(sentenceOf(error))),
    )
  return true
}
