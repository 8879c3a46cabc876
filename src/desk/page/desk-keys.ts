import { useEffect } from 'react'
import type { SurveyView } from '#contract'
import { queryClient } from '../api/queries.ts'
import { chooseFiles } from '../files/choose-files.ts'
import { closeFind, entering, findsView, openFind } from '../finds/finds-state.ts'
import { pointing } from '../finds/pointing.ts'
import { areaDraft, dropDraft } from '../land/area-draft.ts'
import { wantedClick } from '../lanes/lanes-state.ts'
import { endCompare, stepFlicker } from '../layers/compare-state.ts'
import { placedLayer } from '../layers/tie-state.ts'
import { copyPlace } from '../map/coordinate-readout.tsx'
import { plan } from '../map/map-state.ts'
import { decide, drawnKind, endDrawing, makeTarget, openMark, stepMark } from '../marks/marks-state.ts'
import { closeFigure, endMeasure, measure, takeBackPoint, toggleMeasure } from '../measure/measure-state.ts'
import { dropPlace, shownPlace } from '../places/shown-place.ts'
import { openDialog, selection, showStage, singleKeys, stage } from '../state/desk-state.ts'
import { undoLast } from '../survey/undo.ts'
import { stepGap } from '../visits/gap-list.tsx'
import { focusPlaceSearch } from './place-search.tsx'

export interface DeskKey {
  readonly keys: readonly string[]
  readonly does: string
}

/** Every shortcut of the desk, as the list of keys shows them. */
export const deskKeys: readonly DeskKey[] = [
  { keys: ['?'], does: 'Show this list' },
  { keys: ['L'], does: 'Land' },
  { keys: ['K'], does: 'Marks' },
  { keys: ['P'], does: 'Plan' },
  { keys: ['V'], does: 'Visits' },
  { keys: ['F'], does: 'Finds' },
  { keys: ['I'], does: 'Enter a find' },
  { keys: ['N'], does: 'Next gap, largest first; in Marks the next mark, likeliest first' },
  { keys: ['B'], does: 'Gap or mark before' },
  { keys: ['Y'], does: 'Accept the open mark' },
  { keys: ['U'], does: 'Leave the open mark unsure' },
  { keys: ['R'], does: 'Reject the open mark' },
  { keys: ['T'], does: 'Make the open mark a target' },
  { keys: ['A'], does: 'Add files' },
  { keys: ['E'], does: 'Export' },
  { keys: ['/'], does: 'Go to a place' },
  { keys: ['M'], does: 'Measure, or end it' },
  { keys: ['X'], does: 'The other picture, while two alternate' },
  { keys: ['G'], does: 'To the map' },
  { keys: ['C'], does: 'Copy the place under the pointer' },
  { keys: ['Ctrl', 'Z'], does: 'Undo' },
  { keys: ['Esc'], does: 'Close, end, or let go of what is chosen' },
]

/** Keys of the map, which hold while it has the focus. */
export const mapKeys: readonly DeskKey[] = [
  { keys: ['←', '→', '↑', '↓'], does: 'Move the map' },
  { keys: ['+', '−'], does: 'Nearer, farther' },
  { keys: ['Ctrl', 'click'], does: 'Pick a find beside others, or let it go' },
  { keys: ['Enter'], does: 'Close the outline being drawn, or the figure being measured' },
  { keys: ['Backspace'], does: 'Take back its last corner or point' },
]

function measureKey(): void {
  const grid = queryClient.getQueryData<SurveyView>(['survey'])?.grid
  if (grid && !areaDraft.get() && !drawnKind.get()) toggleMeasure()
}

function step(by: 1 | -1): void {
  if (stage.get() === 'marks') stepMark(by)
  else stepGap(by)
}

function targetKey(): void {
  const mark = openMark()
  if (mark && mark.targetId === null) void makeTarget(mark)
}

function enterFind(): void {
  showStage('finds')
  findsView.set('catalogue')
  openFind.set(null)
  entering.set(true)
}

const single: Readonly<Record<string, () => void>> = {
  '?': () => openDialog.set('keys'),
  l: () => showStage('land'),
  k: () => showStage('marks'),
  p: () => showStage('plan'),
  v: () => showStage('visits'),
  f: () => showStage('finds'),
  i: enterFind,
  n: () => step(1),
  b: () => step(-1),
  y: () => void decide('accepted'),
  u: () => void decide('unsure'),
  r: () => void decide('rejected'),
  t: targetKey,
  a: chooseFiles,
  e: () => openDialog.set('export'),
  c: () => void copyPlace(),
  '/': focusPlaceSearch,
  m: measureKey,
  x: stepFlicker,
  g: () => document.getElementById('map')?.focus(),
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && target.closest('input:not([type="checkbox"]), textarea, select') !== null
  )
}

function letGo(): void {
  if (pointing.get()) pointing.set(null)
  else if (areaDraft.get()) dropDraft()
  else if (drawnKind.get()) endDrawing()
  else if (wantedClick.get()) wantedClick.set(null)
  else if (measure.get()) endMeasure()
  else if (stage.get() === 'finds' && openFind.get() !== null) closeFind()
  else if (selection.get()) selection.set(null)
  else if (shownPlace.get()) dropPlace()
  else endCompare()
}

/** What Enter and Backspace do while an outline is drawn or a line measured; null where neither is. */
function drawingActs(): { readonly close: () => void; readonly takeBack: () => void } | null {
  if (measure.get()) return { close: closeFigure, takeBack: takeBackPoint }
  if (drawnKind.get()) {
    return {
      close: () => plan.get()?.marks.finish(),
      takeBack: () => plan.get()?.marks.removeLast(),
    }
  }
  if (areaDraft.get()?.phase !== 'draw') return null
  return { close: () => plan.get()?.finishDraft(), takeBack: () => plan.get()?.removeLastCorner() }
}

function drawingKey({ key, target }: KeyboardEvent): boolean {
  const acts = drawingActs()
  if (!acts || isTyping(target)) return false
  if (target instanceof HTMLElement && target.closest('button, summary, a')) return false
  if (key === 'Enter') acts.close()
  else if (key === 'Backspace') acts.takeBack()
  else return false
  return true
}

function onKey(event: KeyboardEvent): void {
  if (openDialog.get() !== null || placedLayer.get() !== null || event.defaultPrevented) return
  const undo = (event.ctrlKey || event.metaKey) && !event.shiftKey && event.key.toLowerCase() === 'z'
  if (undo && !isTyping(event.target)) {
    event.preventDefault()
    void undoLast()
    return
  }
  if (event.ctrlKey || event.metaKey || event.altKey) return
  if (event.key === 'Escape') letGo()
  else if (drawingKey(event)) event.preventDefault()
  else if (singleKeys.get() && !isTyping(event.target)) {
    const run = single[event.key.toLowerCase()]
    if (!run) return
    event.preventDefault()
    run()
  }
}

/** Listens to the keyboard for as long as the desk is shown. */
export function useDeskKeys(): void {
  useEffect(() => {
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [])
}
