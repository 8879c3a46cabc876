const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/** The day of an ISO 8601 UTC time, in words: `12 September 2026`. */
export function dayOf(iso: string): string {
  const [year, month, day] = iso.slice(0, 10).split('-') as [string, string, string]
  return `${Number(day)} ${months[Number(month) - 1]} ${year}`
}

/** The different days of some times, early first; null where none is known. Days are counted in UTC. */
export function daysInWords(times: readonly (string | null)[]): string | null {
  const days = [...new Set(times.filter((time) => time !== null).map((time) => time.slice(0, 10)))].sort()
  if (days.length === 0) return null
  const words = days.map(dayOf)
  if (words.length === 1) return `Searched on ${words[0]}.`
  if (words.length > 6) return `Searched on ${words.length} days from ${words[0]} to ${words.at(-1)}.`
  return `Searched on ${words.slice(0, -1).join(', ')} and ${words.at(-1)}.`
}

/** Hectares with two decimals from a tenth of a hectare up, square metres below. */
export function areaInWords(squareMetres: number): string {
  return squareMetres >= 1000
    ? `${(squareMetres / 10_000).toFixed(2)} ha`
    : `${squareMetres.toFixed(squareMetres < 100 ? 1 : 0)} m²`
}

/** A share from 0 to 1 as per cent with one decimal. */
export function shareInWords(share: number): string {
  return `${(100 * share).toFixed(1)} %`
}

export function lengthInWords(metres: number): string {
  return metres >= 1000 ? `${(metres / 1000).toFixed(2)} km` : `${metres.toFixed(0)} m`
}

export function durationInWords(seconds: number): string {
  const minutes = Math.round(seconds / 60)
  const hours = Math.floor(minutes / 60)
  return hours > 0 ? `${hours} h ${String(minutes % 60).padStart(2, '0')} min` : `${minutes} min`
}
