import { useQueries } from '@tanstack/react-query'
import type { LineView } from '#contract'
import { lineQuery } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { legsOf, type Measure, sumOfLegs } from './measured-line.ts'

/** What the legs of a measured line came to. */
export interface Measured {
  /** In order; null while a leg's answer has not come. */
  readonly legs: readonly (LineView | null)[]
  /** Sums over all legs, metres; null until all are there. */
  readonly groundM: number | null
  readonly gridM: number | null
  /** Why a leg has no length, in a sentence. */
  readonly fault: string | null
}

/** The legs as the server works them out, each asked for once. */
export function useMeasured(now: Measure | null, epsg: number): Measured {
  const answers = useQueries({
    queries: now === null ? [] : legsOf(now).map(([from, to]) => lineQuery(epsg, from, to)),
  })
  const legs = answers.map(({ data }) => data ?? null)
  const error = answers.find((answer) => answer.error !== null)?.error ?? null
  return { legs, ...sumOfLegs(legs), fault: error === null ? null : sentenceOf(error) }
}
