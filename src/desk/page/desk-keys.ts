import { useEffect } from 'react'
import { chooseFiles } from '../files/choose-files.ts'
import { areaDraft, dropDraft } from '../land/area-draft.ts'
import { copyPlace } from '../map/coordinate-readout.tsx'
import { plan } from '../map/map-state.ts'
import { openDialog, selection, showStage, singleKeys } from '../state/desk-state.ts'
import { undoLast } from '../survey/undo.ts'
import { stepGap } from '../visits/gap-list.tsx'

export interface DeskKey {
  readonly keys: readonly string[]
  readonly does: string
}

/** Every shortcut of the desk, as the list of keys shows them. */
export const deskKeys: readonly DeskKey[] = [
  { keys: ['?'], does: 'Show this list' },
  { keys: ['L'], does: 'Land' },
  { keys: ['V'], does: 'Visits' },
  { keys: ['F'], does: 'Finds' },
  { keys: ['N'], does: 'Next gap, largest first' },
  { keys: ['B'], does: 'Gap before' },
  { keys: ['A'], does: 'Add files' },
  { keys: ['E'], does: 'Export' },
  { keys: ['M'], does: 'To the map' },
  { keys: ['C'], does: 'Copy the place under the pointer' },
  { keys: ['Ctrl', 'Z'], does: 'Undo' },
  { keys: ['Esc'], does: 'Close, or let go of what is chosen' },
]

/** Keys of the map, which hold while it has the focus. */
export const mapKeys: readonly DeskKey[] = [
  { keys: ['←', '→', '↑', '↓'], does: 'Move the map' },
  { keys: ['+', '−'], does: 'Nearer, farther' },
  { keys: ['Enter'], does: 'Close the outline being drawn' },
  { keys: ['Backspace'], does: 'Take back its last corner' },
]

const single: Readonly<Record<string, () => void>> = {
  '?': () => openDialog.set('keys'),
  l: () => showStage('land'),
  v: () => showStage('visits'),
  f: () => showStage('finds'),
  n: () => stepGap(1),
  b: () => stepGap(-1),
  a: chooseFiles,
  e: () => openDialog.set('export'),
  c: () => void copyPlace(),
  m: () => document.getElementById('map')?.focus(),
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && target.closest('input:not([type="checkbox"]), textarea, select') !== null
  )
}

function letGo(): void {
  if (areaDraft.get()) dropDraft()
  else selection.set(null)
}

function drawingKey(event: KeyboardEvent): boolean {
  if (areaDraft.get()?.phase !== 'draw' || isTyping(event.target)) return false
  if (event.target instanceof HTMLButtonElement) return false
  if (event.key === 'Enter') plan.get()?.finishDraft()
  else if (event.key === 'Backspace') plan.get()?.removeLastCorner()
  else return false
  return true
}

function onKey(event: KeyboardEvent): void {
  if (openDialog.get() !== null || event.defaultPrevented) return
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
