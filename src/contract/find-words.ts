import type { Term } from '#core/finds'

/** GET /api/finds/words: the survey's own list of words for objects. */
export interface ObjectList {
  /** The file it came from. */
  readonly file: string | null
  readonly terms: readonly Term[]
}

/** POST /api/finds/words: what became of a list. */
export interface ObjectListReply {
  readonly terms: number
  readonly faults: readonly { readonly line: number | null; readonly code: string; readonly text: string }[]
}
