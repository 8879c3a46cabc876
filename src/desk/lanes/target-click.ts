import { deskApi } from '../api/desk-api.ts'
import { knownList, refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { selection } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { targetByClick } from './lanes-state.ts'

/** What a target is called that is given no name. */
export const nextTargetName = (): string => `Target ${knownList('targets').length + 1}`

/** Adds a target and chooses it. Faults: RequestError. */
export async function addTarget(name: string, easting: number, northing: number): Promise<void> {
  const target = await deskApi.addTarget({ name, easting, northing })
  await refreshSurvey()
  selection.set({ kind: 'target', id: target.id })
}

/** Takes a click on the map as a target, where one is waited for; true if it was taken. */
export function takeTargetClick([easting = 0, northing = 0]: readonly number[]): boolean {
  if (!targetByClick.get()) return false
  targetByClick.set(false)
  addTarget(nextTargetName(), easting, northing).catch((error: unknown) =>
    tellFault(new Error(sentenceOf(error))),
  )
  return true
}
