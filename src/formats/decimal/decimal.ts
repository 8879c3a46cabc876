const powers = Array.from({ length: 16 }, (_, i) => 10 ** i)
const pattern = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,4})?$/

/**
 * The number that a decimal text spells, or NaN where it spells none: digits, one point, a sign, an exponent, white space
 * around; not `0x10`, `Infinity`, a comma or nothing at all.
 *
 * Up to 15 digits the result is an integer below 2^53 over a power of ten, both exact, so one correctly rounded division
 * gives the nearest double (Clinger 1990, "How to read floating point numbers accurately"). Longer texts and exponents
 * go through `Number`.
 *
 * @example decimal(' -0.5 ') // -0.5
 */
export function decimal(text: string): number {
  let i = 0
  let end = text.length
  while (i < end && text.charCodeAt(i) <= 32) i++
  while (end > i && text.charCodeAt(end - 1) <= 32) end--
  const from = i
  const sign = text.charCodeAt(i)
  if (sign === 45 || sign === 43) i++
  const first = i
  let mantissa = 0
  let point = -1
  for (; i < end; i++) {
    const code = text.charCodeAt(i)
    if (code >= 48 && code <= 57) mantissa = mantissa * 10 + (code - 48)
    else if (code === 46 && point < 0) point = i
    else return slowDecimal(text.slice(from, end))
  }
  const digits = end - first - (point < 0 ? 0 : 1)
  if (digits < 1 || digits > 15) return slowDecimal(text.slice(from, end))
  const value = point < 0 ? mantissa : mantissa / powers[end - 1 - point]!
  return sign === 45 ? -value : value
}

function slowDecimal(text: string): number {
  return pattern.test(text) ? Number(text) : Number.NaN
}
