import type { Mark, MarkEdit, MarkKind, MarkState, NewMark, SoughtKind } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { knownList, refreshSurvey } from '../api/queries.ts'
import { dropDraft } from '../land/area-draft.ts'
import { goTo } from '../map/map-state.ts'
import { endMeasure } from '../measure/measure-state.ts'
import { selection, showStage, stage } from '../state/desk-state.ts'
import { onJobEnd } from '../state/jobs.ts'
import { tell, tellFault } from '../state/notices.ts'
import { createStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import { chipSide } from './chip-address.ts'
import { bestFirst, isShown, kindListed, type MarkFilter, markBeside } from './mark-order.ts'
import { kindNames } from './mark-words.ts'
import { changeForm, lastSought, searchFault, searchOutcome } from './search-state.ts'

/** Which marks are listed and gone through: all, until a search has brought some to decide. */
export const markFilter = createStore<MarkFilter>('all')

/** The kind of mark being drawn on the map; null while none is. */
export const drawnKind = createStore<MarkKind | null>(null)

/** Of which kinds marks are listed and gone through; enclosures go with lines. */
export const kindFilter = createStore<SoughtKind | 'all'>('all')

onJobEnd((job) => {
  if (job.kind !== 'marks') return
  if (job.state === 'failed') searchFault.set(job.error?.text ?? 'The search came to nothing.')
  if (job.state === 'done') {
    searchOutcome.set(`${job.label.charAt(0).toUpperCase()}${job.label.slice(1)}.`)
    markFilter.set('candidate')
    kindFilter.set(lastSought.get() ?? 'all')
    if (stage.get() !== 'marks') tell('good', `${job.label}.`)
  }
  void refreshSurvey()
})

/** The mark that is open in its panel; null where none is. */
export function openMark(): Mark | null {
  const chosen = selection.get()
  if (stage.get() !== 'marks' || chosen?.kind !== 'mark') return null
  return knownList('marks').find(({ id }) => id === chosen.id) ?? null
}

/** Opens a mark and shows the ground about it. */
export function goToMark(mark: Mark): void {
  const half = chipSide(mark) / 2
  const { easting, northing } = mark
  selection.set({ kind: 'mark', id: mark.id })
  showStage('marks')
  goTo([easting - half, northing - half, easting + half, northing + half])
}

/** Opens the mark after, or before, the one now open; the best where none is. */
export function stepMark(step: 1 | -1): void {
  const open = openMark()?.id ?? null
  const marks = knownList('marks')
  const filter = { state: markFilter.get(), kind: kindListed(marks, kindFilter.get()) }
  const mark = markBeside(bestFirst(marks), (each) => isShown(each, filter), open, step)
  if (mark) goToMark(mark)
  else if (open === null) tell('plain', 'There is no mark to go to.')
}

/** Changes a mark; a fault is told. True if it went well. */
export async function changeMark(mark: Mark, edit: MarkEdit): Promise<boolean> {
  try {
    await deskApi.changeMark(mark.id, edit)
    await refreshSurvey()
    return true
  } catch (error) {
    tellFault(error)
    await refreshSurvey()
    return false
  }
}

const done: Readonly<Record<MarkState, string>> = {
  accepted: 'Accepted',
  rejected: 'Rejected',
  unsure: 'Left unsure',
  candidate: 'Put back',
}

/** Decides on the open mark and goes on to the next one that is to be decided. */
export async function decide(state: MarkState): Promise<void> {
  const mark = openMark()
  if (!mark) return
  // The same answer again takes it back.
  const next = mark.state === state ? 'candidate' : state
  const goesOn = mark.state === 'candidate' && next !== 'candidate'
  if (!(await changeMark(mark, { state: next }))) return
  tell('good', `${done[next]}: ${kindNames[mark.kind].toLowerCase()} ${mark.id}.`, {
    label: 'Undo',
    run: () => void undoLast(),
  })
  if (goesOn && openMark()?.id === mark.id) stepMark(1)
}

/** Takes the open mark out of the survey. */
export async function removeMark(mark: Mark): Promise<void> {
  try {
    await deskApi.removeMark(mark.id)
    selection.set(null)
    tell('good', `Took ${kindNames[mark.kind].toLowerCase()} ${mark.id} out of the survey.`, {
      label: 'Undo',
      run: () => void undoLast(),
    })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

/** Takes out all candidates of the kinds that are listed which nobody has touched. */
export async function removeUndecided(): Promise<void> {
  const kind = kindListed(knownList('marks'), kindFilter.get())
  try {
    const { removed } = await deskApi.removeUndecided(kind === 'all' ? null : kind)
    await refreshSurvey()
    tell('good', `Took out ${removed} undecided candidates.`, { label: 'Undo', run: () => void undoLast() })
  } catch (error) {
    tellFault(error)
  }
}

/** Puts a target at the middle of a mark. */
export async function makeTarget(mark: Mark): Promise<void> {
  try {
    const target = await deskApi.makeTarget(mark.id)
    await refreshSurvey()
    tell('good', `Made the target ${target.name}.`)
  } catch (error) {
    tellFault(error)
  }
}

/** Begins to draw a mark: the next clicks on the map are its places. */
export function drawMark(kind: MarkKind): void {
  dropDraft()
  endMeasure()
  selection.set(null)
  drawnKind.set(kind)
}

export function endDrawing(): void {
  drawnKind.set(null)
}

/** Puts a drawn mark into the survey and opens it. Faults: RequestError with the server's sentence. */
export async function keepMark(mark: NewMark): Promise<void> {
  const made = await deskApi.addMark(mark)
  endDrawing()
  await refreshSurvey()
  selection.set({ kind: 'mark', id: made.id })
}

/** Forgets what belonged to the survey that was open. */
export function forgetSearch(): void {
  endDrawing()
  changeForm({ layerId: null, view: null })
  searchFault.set(null)
  searchOutcome.set(null)
  lastSought.set(null)
  markFilter.set('all')
  kindFilter.set('all')
}
