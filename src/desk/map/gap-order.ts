import type { GapView } from '#contract'
import type { Selection } from '../state/desk-state.ts'

/** The gap after (or before) the one now chosen, in the order of the list; the first where none is. */
export function gapBeside(gaps: readonly GapView[], now: Selection | null, step: 1 | -1): GapView | null {
  if (gaps.length === 0) return null
  const at = now?.kind === 'gap' ? gaps.findIndex((gap) => gap.id === now.id) : -1
  if (at < 0) return gaps[0]!
  return gaps[(at + step + gaps.length) % gaps.length]!
}

/** Gaps from the largest down. */
export function largestFirst(gaps: readonly GapView[]): GapView[] {
  return [...gaps].sort((a, b) => b.areaM2 - a.areaM2)
}
