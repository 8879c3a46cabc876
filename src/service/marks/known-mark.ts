import type { MarkKind } from '#contract'
import {
  isSameEnclosure,
  isSameLine,
  isSameMark,
  type LinePlace,
  lineLikeness,
  type MarkPlace,
} from '#core/marks'
import type { MarkFacts, StoredMark } from '#store'

/** Where a mark lies in the survey's grid, metres: one that is round by its middle, any other by its line or outline. */
export type MarkShape = { readonly round: MarkPlace } | { readonly line: LinePlace }

/** A mark of the survey, to be known again. */
export interface PlacedMark {
  readonly mark: StoredMark
  readonly shape: MarkShape
  readonly hasTarget: boolean
}

/** A candidate of a search, ready to be stored. */
export interface FoundMark {
  readonly shape: MarkShape
  readonly facts: MarkFacts
}

type KindAndShape = { readonly kind: MarkKind; readonly shape: MarkShape }

/** How alike two sightings of one kind are, 1 for the same; null where they are taken for two marks. */
function likeness(a: KindAndShape, b: KindAndShape): number | null {
  if ('round' in a.shape && 'round' in b.shape) {
    if (!isSameMark(a.shape.round, b.shape.round)) return null
    const [p, q] = [a.shape.round, b.shape.round]
    return 1 - Math.hypot(p.x - q.x, p.y - q.y) / Math.max(p.diameter, q.diameter)
  }
  if ('round' in a.shape || 'round' in b.shape || a.kind !== b.kind) return null
  const same = a.kind === 'enclosure' ? isSameEnclosure : isSameLine
  return same(a.shape.line, b.shape.line) ? lineLikeness(a.shape.line, b.shape.line) : null
}

export const isSameFound = (a: FoundMark, b: FoundMark): boolean =>
  a.facts.kind === b.facts.kind && likeness(told(a), told(b)) !== null

/** True where a person has said what is there: accepted it, drew it, or changed what the search had found. */
const isSaid = ({ state, madeBy, edited }: StoredMark): boolean =>
  state === 'accepted' || madeBy === 'hand' || edited

/**
 * The mark of the survey that a candidate is, the likest where several are; null where none is. A candidate is a mark of its own kind. Only
 * where a person has said what is there is a ring found again as a pit, or a pit as a ring, that mark too: whether something is a ring
 * is another question than whether it is a pit, so the answer to one does not decide the other.
 */
export function knownFor(known: readonly PlacedMark[], found: FoundMark): PlacedMark | null {
  const { kind } = found.facts
  const likest = (those: (mark: StoredMark) => boolean): PlacedMark | null => {
    let [best, most] = [null as PlacedMark | null, -1]
    for (const placed of known) {
      if (!those(placed.mark)) continue
      const like = likeness({ kind: placed.mark.kind, shape: placed.shape }, told(found))
      if (like !== null && like > most) [best, most] = [placed, like]
    }
    return best
  }
  return likest((mark) => mark.kind === kind) ?? likest((mark) => mark.kind !== kind && isSaid(mark))
}

const told = ({ facts, shape }: FoundMark): KindAndShape => ({ kind: facts.kind, shape })
