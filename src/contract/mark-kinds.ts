/** What the marks' shapes and the page both go by; without a schema, so that the page need not load one. */

export const markKinds = ['ring', 'pit', 'line', 'enclosure'] as const
export type MarkKind = (typeof markKinds)[number]

/** The kinds of a search; that for lines finds enclosures too. */
export const soughtKinds = ['ring', 'pit', 'line'] as const
export type SoughtKind = (typeof soughtKinds)[number]

/** By which search a mark of a kind is found. */
export const soughtKindOf = (kind: MarkKind): SoughtKind => (kind === 'enclosure' ? 'line' : kind)

/** Most candidates of one search. */
export const mostCandidates = 1000
