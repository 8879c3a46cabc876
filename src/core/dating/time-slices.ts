import { type Span, yearAt, yearIndex } from './years.ts'

/** Slices of time, one after the other without gaps. */
export interface TimeSlices {
  /** Bounds as year indexes, ascending: slice i holds the years from `edges[i]` up to, not including, `edges[i + 1]`. */
  readonly edges: Int32Array
}

const mostSlices = 100_000

/**
 * Slices of `width` years that cover a span, laid so that one begins with AD 1: a width of 100 gives whole centuries.
 *
 * Faults  RangeError unless the width is a whole number of at least 1, or for more than 100,000 slices.
 */
export function timeSlices(span: Span, width: number): TimeSlices {
  if (!Number.isInteger(width) || width < 1)
    throw new RangeError(`a slice is a whole number of years, got ${width}`)
  const first = Math.floor((yearIndex(span.from) - 1) / width)
  const end = Math.floor((yearIndex(span.to) - 1) / width) + 1
  const count = end - first
  if (count < 1 || count > mostSlices) throw new RangeError(`${count} slices of ${width} years`)
  return { edges: Int32Array.from({ length: count + 1 }, (_, i) => (first + i) * width + 1) }
}

/** First and last year of slice `i`. */
export function sliceSpan({ edges }: TimeSlices, i: number): Span {
  if (!(i >= 0 && i + 1 < edges.length)) throw new RangeError(`no slice ${i}`)
  return { from: yearAt(edges[i]!), to: yearAt(edges[i + 1]! - 1) }
}

/** The slice that holds a year index: -1 before the first, the number of slices after the last. Cost: a binary search. */
export function sliceOf({ edges }: TimeSlices, index: number): number {
  let low = 0
  let high = edges.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (edges[middle]! <= index) low = middle + 1
    else high = middle
  }
  return low - 1
}
