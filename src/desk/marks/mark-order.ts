import type { Mark, MarkState } from '#contract'

/** Which marks are gone through: those still to be decided, those of one decision, or all. */
export type MarkFilter = MarkState | 'all'

/** The likeliest first: those that chance gives least often, then by score; what a person drew comes after what is to be judged. */
export function bestFirst(marks: readonly Mark[]): Mark[] {
  const rank = ({ falseAlarmsPerKm2 }: Mark): number => falseAlarmsPerKm2 ?? Infinity
  return marks.toSorted(
    (a, b) => compare(rank(a), rank(b)) || compare(b.score ?? -1, a.score ?? -1) || a.id - b.id,
  )
}

/** Infinities are alike, which their difference would not say. */
const compare = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1)

export const isShown = ({ state }: Mark, filter: MarkFilter): boolean => filter === 'all' || state === filter

/**
 * The mark after, or before, the one now open, among those of the filter: best first, and round again at the end. The open one may have
 * left the filter, by a decision; its place in the order still counts. Null where no other is left.
 */
export function markBeside(
  ordered: readonly Mark[],
  filter: MarkFilter,
  open: number | null,
  step: 1 | -1,
): Mark | null {
  const from = ordered.findIndex(({ id }) => id === open)
  const start = from >= 0 ? from : step === 1 ? -1 : 0
  const { length } = ordered
  for (let i = 1; i <= length; i++) {
    const mark = ordered[(((start + step * i) % length) + length) % length]!
    if (mark.id !== open && isShown(mark, filter)) return mark
  }
  return null
}
