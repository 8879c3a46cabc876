/** How quantities are written on screen. SI values in, words out; nothing else in the desk rounds. */

const narrow = '\u202f'
const fixed = [0, 1, 2, 3].map(
  (digits) =>
    new Intl.NumberFormat('en-GB', { minimumFractionDigits: digits, maximumFractionDigits: digits }),
)

function withDigits(value: number, digits: 0 | 1 | 2 | 3): string {
  return fixed[digits]!.format(value)
}

/** 1,234 */
export function wholeNumber(value: number): string {
  return withDigits(value, 0)
}

/** About three figures: 3.25, 32.5, 325. */
export function threeFigures(value: number): string {
  const size = Math.abs(value)
  return withDigits(value, size < 9.995 ? 2 : size < 99.95 ? 1 : 0)
}

/** An area for reading: square metres below a tenth of a hectare, else hectares. In square metres. */
export function areaText(squareMetres: number): string {
  if (squareMetres >= 1000) return `${threeFigures(squareMetres / 10_000)}${narrow}ha`
  return squareMetresText(squareMetres)
}

/** An area that is compared with others of its kind, always in square metres: 1,734 m². In square metres. */
export function squareMetresText(squareMetres: number): string {
  return `${withDigits(squareMetres, squareMetres < 9.95 ? 1 : 0)}${narrow}m²`
}

/** A length for reading: metres below a kilometre, else kilometres. In metres. */
export function lengthText(metres: number): string {
  if (metres >= 999.5) return `${threeFigures(metres / 1000)}${narrow}km`
  return `${withDigits(metres, metres < 9.95 ? 1 : 0)}${narrow}m`
}

/** A length that was measured, as finely as a map can tell it: 3.42 m, 123.4 m, 1,234.5 m, 12.345 km. In metres. */
export function measuredText(metres: number): string {
  if (metres < 9.995) return `${withDigits(metres, 2)}${narrow}m`
  if (metres < 9999.95) return `${withDigits(metres, 1)}${narrow}m`
  return `${withDigits(metres / 1000, 3)}${narrow}km`
}

/** A share 0 to 1 in per cent, one decimal. Only a true nothing reads 0 and only a true whole reads 100. */
export function shareText(share: number): string {
  if (share <= 0) return `0${narrow}%`
  if (share >= 1) return `100${narrow}%`
  const tenths = Math.min(999, Math.max(1, Math.round(share * 1000)))
  return `${(tenths / 10).toFixed(1)}${narrow}%`
}

/** A time span for reading, two units at most. In seconds. */
export function durationText(seconds: number): string {
  if (seconds < 59.5) return `${withDigits(seconds, seconds < 9.95 ? 1 : 0)}${narrow}s`
  const minutes = Math.round(seconds / 60)
  if (minutes < 60) return `${minutes}${narrow}min`
  const hours = Math.floor(minutes / 60)
  const rest = minutes % 60
  return rest === 0
    ? `${wholeNumber(hours)}${narrow}h`
    : `${wholeNumber(hours)}${narrow}h ${rest}${narrow}min`
}

/** `1 gap`, `12 gaps`: the plural is the word with an s unless another is given. */
export function countText(count: number, one: string, many = `${one}s`): string {
  return `${wholeNumber(count)} ${count === 1 ? one : many}`
}

/** An instant in the reader's own time zone: 14 Mar 2025, 09:12. */
export function momentText(iso: string): string {
  const date = new Date(iso)
  if (Number.isNaN(date.getTime())) return iso
  return date.toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  })
}
