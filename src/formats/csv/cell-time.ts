import { isoSeconds, timeSeconds } from '#formats/time'

/** Order of day and month in dates written with figures only. */
export type DayOrder = 'day first' | 'month first'

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const figures = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{2})(?![\d/.-])/
const named = /^(?:[a-z]{3,9},? )?(\d{1,2})(?:st|nd|rd|th)?[ -]([a-z]{3,9})\.?,?[ -](\d{4}|\d{2})(?!\d)/
const clockPattern =
  /^(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,](\d+))?)?\s*([ap])?\.?m?\.?\s*(z|utc|gmt|[+-]\d{2}:?\d{2})?$/

/** Month first only if some date cannot be read the other way round; British tables write the day first (common practice). */
export function dayOrderOf(dates: readonly string[]): DayOrder {
  let order: DayOrder = 'day first'
  for (const date of dates) {
    const parts = figures.exec(date.trim())
    if (parts === null) continue
    if (Number(parts[1]) > 12) return 'day first'
    if (Number(parts[2]) > 12) order = 'month first'
  }
  return order
}

/**
 * Seconds since 1970-01-01 UTC of a cell, with `clock` the time of day from another cell or nothing. ISO 8601, counts of
 * seconds or milliseconds, `31/05/2024 14:05`, `31 May 2024`, am and pm. Two figures of a year mean 20xx. NaN where it cannot be read.
 */
export function cellSeconds(date: string, clock: string, order: DayOrder): number {
  const text = date.trim().toLowerCase()
  const whole = clock.trim() === '' ? timeSeconds(date) : Number.NaN
  if (!Number.isNaN(whole)) return whole
  const iso = /^\d{4}-\d{2}-\d{2}(?=$|[t ])/.exec(text)
  const found = iso ?? figures.exec(text) ?? named.exec(text)
  if (found === null) return Number.NaN
  const day = iso === null ? isoDay(found, order) : iso[0]
  if (day === null) return Number.NaN
  const rest = text.slice(found[0].length).replace(/^[t, ]+/, '')
  if (rest !== '' && clock.trim() !== '' && !/^0{1,2}:00(:00)?/.test(rest)) return Number.NaN
  return isoSeconds(`${day}T${isoClock(clock.trim() === '' ? rest : clock.trim().toLowerCase())}`)
}

/** Whether a cell with a time of day leaves its zone open. */
export function leavesZoneOpen(date: string, clock: string): boolean {
  const text = `${date} ${clock}`.trim()
  return /\d[:.]\d{2}/.test(text) && !/(z|utc|gmt|[+-]\d{2}:?\d{2})$/i.test(text)
}

function isoDay(parts: RegExpExecArray, order: DayOrder): string | null {
  const [, first = '', second = '', year = ''] = parts
  const byName = /[a-z]/.test(second)
  const month = byName
    ? months.indexOf(second.slice(0, 3)) + 1
    : Number(order === 'day first' ? second : first)
  const day = byName || order === 'day first' ? first : second
  if (month < 1) return null
  const full = year.length === 2 ? `20${year}` : year
  return `${full}-${String(month).padStart(2, '0')}-${day.padStart(2, '0')}`
}

/** `hh:mm:ss` with fraction and zone, midnight for nothing, and what ISO does not know as it is. */
function isoClock(text: string): string {
  if (text === '') return '00:00:00Z'
  const parts = clockPattern.exec(text)
  if (parts === null) return text
  const [, hour = '', minute = '', second = '00', fraction = '', half, zone = ''] = parts
  const past = half === undefined ? Number(hour) : (Number(hour) % 12) + (half === 'p' ? 12 : 0)
  if (half !== undefined && (Number(hour) < 1 || Number(hour) > 12)) return text
  const zoneText = /^[a-z]/.test(zone) ? 'Z' : zone
  return `${String(past).padStart(2, '0')}:${minute}:${second}${fraction === '' ? '' : `.${fraction}`}${zoneText}`
}
