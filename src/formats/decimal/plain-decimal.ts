import { fixedDecimal } from './fixed-decimal.ts'

/**
 * The shortest decimal text that reads back as the same number, without an exponent; sizes below 1e-7 are rounded to
 * 20 places. Faults: RangeError for NaN, infinities and sizes of 1e21 and above.
 *
 * @example plainDecimal(0.15) // '0.15'
 */
export function plainDecimal(value: number): string {
  const text = String(value)
  return /^-?\d+(\.\d+)?$/.test(text) && text !== '-0' ? text : fixedDecimal(value, 20)
}
