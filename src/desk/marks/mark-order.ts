import { type Mark, type MarkState, type SoughtKind, soughtKindOf, soughtKinds } from '#contract'

/** Which marks are gone through: those still to be decided, those of one decision, or all. */
export type MarkFilter = MarkState | 'all'

/**
 * The likeliest first: those that chance gives least often, then by score; what a person drew comes after what is to be judged, and what looks like
 * something of our own day (tramlines, the edge of a field) after all that does not.
 */
export function bestFirst(marks: readonly Mark[]): Mark[] {
  const rank = ({ falseAlarmsPerKm2 }: Mark): number => falseAlarmsPerKm2 ?? Infinity
  return marks.toSorted(
    (a, b) =>
      compare(Math.sign(a.mayBe.length), Math.sign(b.mayBe.length)) ||
      compare(rank(a), rank(b)) ||
      compare(b.score ?? -1, a.score ?? -1) ||
      a.id - b.id,
  )
}

/** Infinities are alike, which their difference would not say. */
const compare = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1)

/** Which marks are listed: those of one decision, of one kind; enclosures go with lines. */
export interface Listed {
  readonly state: MarkFilter
  readonly kind: SoughtKind | 'all'
}

/** The kinds that are in the survey, as they are looked for. */
export const kindsThere = (marks: readonly Mark[]): SoughtKind[] =>
  soughtKinds.filter((kind) => marks.some((mark) => soughtKindOf(mark.kind) === kind))

/** The kind that is listed: the one asked for while there is any of it, else all. */
export const kindListed = (marks: readonly Mark[], asked: SoughtKind | 'all'): SoughtKind | 'all' =>
  asked !== 'all' && kindsThere(marks).includes(asked) ? asked : 'all'

export const isShown = (mark: Mark, { state, kind }: Listed): boolean =>
  (state === 'all' || mark.state === state) && (kind === 'all' || soughtKindOf(mark.kind) === kind)

/**
 * The mark after, or before, the one now open, among those that are listed: best first, and round again at the end. The open one may have
 * left the list, by a decision; its place in the order still counts. Null where no other is left.
 */
export function markBeside(
  ordered: readonly Mark[],
  isListed: (mark: Mark) => boolean,
  open: number | null,
  step: 1 | -1,
): Mark | null {
  const from = ordered.findIndex(({ id }) => id === open)
  const start = from >= 0 ? from : step === 1 ? -1 : 0
  const { length } = ordered
  for (let i = 1; i <= length; i++) {
    const mark = ordered[(((start + step * i) % length) + length) % length]!
    if (mark.id !== open && isListed(mark)) return mark
  }
  return null
}
