import { useQueries } from '@tanstack/react-query'
import type { LineView } from '#contract'
import { polygonArea, validateArea } from '#core/geometry'
import { lineQuery } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { legsOf, type Measure } from './measure-state.ts'

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

function sumOfLegs(legs: readonly (LineView | null)[]): Pick<Measured, 'groundM' | 'gridM'> {
  let [groundM, gridM] = [0, 0]
  for (const leg of legs) {
    if (leg === null) return { groundM: null, gridM: null }
    groundM += leg.groundM
    gridM += leg.gridM
  }
  return { groundM, gridM }
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

/** Area of a closed figure on the plane of the grid, square metres, or why it has none. */
export function figureArea(
  { points }: Measure,
  epsg: number,
): { readonly areaM2: number } | { readonly flaw: string } {
  const polygon = { rings: [Float64Array.from([...points, points[0]!].flat())] }
  const [flaw] = validateArea({ epsg, polygons: [polygon] }, 1)
  return flaw === undefined
    ? { areaM2: polygonArea(polygon) }
    : { flaw: `${flaw.text} So its area is not told.` }
}
