/**
 * Years as people count them: -1 is 1 BC, 1 is AD 1, and there is no year 0. Sums run on the index instead, an unbroken
 * count in which 1 BC is 0 (the astronomical numbering of ISO 8601), so that -1 and 1 are neighbours.
 */
export interface Span {
  /** First year, meant whole. */
  readonly from: number
  /** Last year, meant whole; not before `from`. */
  readonly to: number
}

/** Whether a number can be a year: whole and not 0. */
export function isYear(year: number): boolean {
  return Number.isInteger(year) && year !== 0
}

/** Index of a year: -1 gives 0, 1 gives 1. Faults: RangeError for 0 and fractions. */
export function yearIndex(year: number): number {
  if (!isYear(year)) throw new RangeError(`${year} is no year: years are whole and none is 0`)
  return year < 0 ? year + 1 : year
}

/** The year at an index: 0 gives -1. Faults: RangeError for fractions. */
export function yearAt(index: number): number {
  if (!Number.isInteger(index)) throw new RangeError(`a year index is whole, got ${index}`)
  return index <= 0 ? index - 1 : index
}

/** Years in a span, both ends counted: -1 to 1 is two years. Faults: RangeError where it ends before it begins. */
export function yearsIn({ from, to }: Span): number {
  const years = yearIndex(to) - yearIndex(from) + 1
  if (years < 1) throw new RangeError(`a span runs forwards, got ${from} to ${to}`)
  return years
}

/** @example yearText(-1200) // '1200 BC' */
export function yearText(year: number): string {
  return yearIndex(year) <= 0 ? `${-year} BC` : `AD ${year}`
}

/** @example spanText({ from: 43, to: 410 }) // 'AD 43–410' */
export function spanText({ from, to }: Span): string {
  if (from === to) return yearText(from)
  if (to < 0) return `${-from}–${-to} BC`
  return from > 0 ? `AD ${from}–${to}` : `${yearText(from)} – ${yearText(to)}`
}
