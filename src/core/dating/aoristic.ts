import { sliceOf, type TimeSlices } from './time-slices.ts'
import { type Span, yearIndex, yearsIn } from './years.ts'

/** Finds by their dates, one index a find. */
export interface Dated {
  /** First and last years as year indexes; both ends are whole years. */
  readonly from: Int32Array
  readonly to: Int32Array
  /** What a find counts: its pieces. */
  readonly pieces: Float64Array
  /** Chance that it belongs to the sum at all, 0 to 1: what its certainty is worth. */
  readonly chance: Float64Array
}

export interface AoristicSum {
  /** One number a slice. */
  readonly sum: Float64Array
  /** What falls before the first slice and after the last, so that nothing vanishes unsaid. */
  readonly before: number
  readonly after: number
}

/**
 * Share of a span that falls into each slice: every year of the span is held equally likely. The shares add up to the part
 * of the span that the slices cover, 1 where they cover it all.
 *
 * Source  Ratcliffe 2000, "Aoristic analysis: the spatial interpretation of unspecific temporal events", International
 *         Journal of Geographical Information Science 14(7); docs/methods/dating.md#shares.
 *
 * @example aoristicWeights({ from: 101, to: 200 }, timeSlices({ from: 1, to: 400 }, 50)) // [0, 0, 0.5, 0.5, 0, 0, 0, 0]
 */
export function aoristicWeights(span: Span, slices: TimeSlices): Float64Array {
  const years = yearsIn(span)
  const start = yearIndex(span.from)
  const { edges } = slices
  return Float64Array.from({ length: edges.length - 1 }, (_, i) => {
    const within = Math.min(edges[i + 1]!, start + years) - Math.max(edges[i]!, start)
    return Math.max(0, within) / years
  })
}

/**
 * Sum over finds of pieces x chance x share of the span in each slice. Before, sums and after add up to the sum of pieces x chance.
 *
 * Source  Crema 2012, "Modelling temporal uncertainty in archaeological analysis", Journal of Archaeological Method and
 *         Theory 19; docs/methods/dating.md#sums.
 * Cost    linear in finds and in the slices that each one's span touches.
 */
export function aoristicSum(finds: Dated, slices: TimeSlices): AoristicSum {
  const { edges } = slices
  const count = edges.length - 1
  const sum = new Float64Array(count)
  let before = 0
  let after = 0
  for (let k = 0; k < finds.from.length; k++) {
    const start = finds.from[k]!
    const end = finds.to[k]! + 1
    const perYear = (finds.pieces[k]! * finds.chance[k]!) / (end - start)
    before += Math.max(0, Math.min(end, edges[0]!) - start) * perYear
    after += Math.max(0, end - Math.max(start, edges[count]!)) * perYear
    for (let i = Math.max(0, sliceOf(slices, start)); i < count && edges[i]! < end; i++) {
      sum[i]! += Math.max(0, Math.min(edges[i + 1]!, end) - Math.max(edges[i]!, start)) * perYear
    }
  }
  return { sum, before, after }
}
