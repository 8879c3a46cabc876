/**
 * A number in plain decimal notation, rounded to at most `places` and without trailing zeros: never an exponent, never
 * `-0`. Faults: RangeError for NaN, infinities and numbers of 1e21 and above, which have no such notation.
 *
 * @example fixedDecimal(52.1234567891, 8) // '52.12345679'
 */
export function fixedDecimal(value: number, places: number): string {
  if (!(Math.abs(value) < 1e21)) throw new RangeError(`no plain decimal notation for ${value}`)
  const text = value.toFixed(places)
  if (places === 0) return text === '-0' ? '0' : text
  let end = text.length
  while (text.charCodeAt(end - 1) === 48) end--
  if (text.charCodeAt(end - 1) === 46) end--
  const plain = text.slice(0, end)
  return plain === '-0' ? '0' : plain
}
