import type { Certainty, FindRecord } from '#core/finds'
import type { Dated } from './aoristic.ts'
import { isYear, yearIndex } from './years.ts'

/** What each certainty is worth as a chance; `unsaid` where a find says none. Our own choice, to be changed by the user. */
export const certaintyWorth: Readonly<Record<Certainty | 'unsaid', number>> = {
  certain: 1,
  probable: 0.75,
  possible: 0.5,
  unsaid: 1,
}

export interface DatedFinds {
  readonly dated: Dated
  /** Finds left out because a year is missing, is 0, or the last is before the first. */
  readonly undated: number
}

/** Finds with both years, as arrays for the sums. A find without a count counts as one piece. Cost: linear. */
export function datedFinds(
  finds: readonly Pick<FindRecord, 'fromYear' | 'toYear' | 'certainty' | 'count'>[],
  worth: Readonly<Record<Certainty | 'unsaid', number>>,
): DatedFinds {
  const kept = finds.filter(
    ({ fromYear: from, toYear: to }) =>
      from !== null && to !== null && isYear(from) && isYear(to) && from <= to,
  )
  return {
    dated: {
      from: Int32Array.from(kept, ({ fromYear }) => yearIndex(fromYear!)),
      to: Int32Array.from(kept, ({ toYear }) => yearIndex(toYear!)),
      pieces: Float64Array.from(kept, ({ count }) => count ?? 1),
      chance: Float64Array.from(kept, ({ certainty }) => worth[certainty ?? 'unsaid']),
    },
    undated: finds.length - kept.length,
  }
}
