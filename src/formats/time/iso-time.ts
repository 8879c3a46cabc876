const monthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Days from 1970-01-01 to a date of the Gregorian calendar (H. Hinnant, "chrono-compatible low-level date algorithms", days_from_civil). */
function daysFromCivil(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year
  const era = Math.floor(y / 400)
  const yearOfEra = y - era * 400
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear
  return era * 146_097 + dayOfEra - 719_468
}

/**
 * Seconds from 1970-01-01 to the start of a day of the Gregorian calendar; NaN where no calendar has that day, and for
 * years outside 0 to 9999.
 */
export function midnightSeconds(year: number, month: number, day: number): number {
  if (!(year >= 0 && year <= 9999 && month >= 1 && month <= 12 && day >= 1)) return Number.NaN
  const leapDay = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 1 : 0
  return day > monthDays[month - 1]! + leapDay ? Number.NaN : daysFromCivil(year, month, day) * 86_400
}

/** Digits from `at`, as many as `count`; NaN where another character stands there. */
function digits(text: string, at: number, count: number): number {
  let value = 0
  for (let i = at; i < at + count; i++) {
    const digit = text.charCodeAt(i) - 48
    if (!(digit >= 0 && digit <= 9)) return Number.NaN
    value = value * 10 + digit
  }
  return value
}

/** Seconds that a zone at `at` is ahead of UTC: `Z`, `+hh`, `+hhmm`, `+hh:mm`, or nothing (UTC). NaN if it is none of these. */
function zoneSeconds(text: string, at: number): number {
  const rest = text.length - at
  const sign = text.charCodeAt(at)
  if (rest === 0 || (rest === 1 && (sign === 90 || sign === 122))) return 0
  if (sign !== 43 && sign !== 45) return Number.NaN
  const colon = text.charCodeAt(at + 3) === 58 ? 1 : 0
  if (rest !== 3 && rest !== 5 + colon) return Number.NaN
  const hours = digits(text, at + 1, 2)
  const minutes = rest === 3 ? 0 : digits(text, at + 3 + colon, 2)
  if (!(hours <= 14 && minutes <= 59)) return Number.NaN
  return (sign === 45 ? -1 : 1) * (hours * 3600 + minutes * 60)
}

/**
 * Seconds since 1970-01-01 UTC of a time in the ISO 8601 form of XML Schema dateTime: `2024-05-01T10:00:00.25+01:00`.
 * A date alone, a missing zone (both taken as UTC), a space for the T, missing seconds, and a comma before the fraction
 * are understood too. NaN for all else, also for dates that no calendar has. 24:00:00 and a leap second 60 are accepted.
 *
 * @example isoSeconds('1970-01-01T01:00:00.5+01:00') // 0.5
 */
export function isoSeconds(text: string): number {
  const year = digits(text, 0, 4)
  const month = digits(text, 5, 2)
  const day = digits(text, 8, 2)
  if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45) return Number.NaN
  const midnight = midnightSeconds(year, month, day)
  if (text.length === 10) return midnight
  const between = text.charCodeAt(10)
  if (between !== 84 && between !== 116 && between !== 32) return midnight - zoneSeconds(text, 10)
  return withClock(midnight, text)
}

/** `midnight` plus the time of day from the eleventh character on, less the zone. The fraction is added last, to lose none of it. */
function withClock(midnight: number, text: string): number {
  const hours = digits(text, 11, 2)
  const minutes = digits(text, 14, 2)
  if (text.charCodeAt(13) !== 58 || !(hours <= 24 && minutes <= 59)) return Number.NaN
  let seconds = 0
  let fraction = 0
  let at = 16
  if (text.charCodeAt(16) === 58) {
    seconds = digits(text, 17, 2)
    at = 19
    const mark = text.charCodeAt(19)
    if (mark === 46 || mark === 44) {
      let value = 0
      let scale = 1
      for (at = 20; at < text.length; at++) {
        const digit = text.charCodeAt(at) - 48
        if (!(digit >= 0 && digit <= 9)) break
        if (scale < 1e15) {
          value = value * 10 + digit
          scale *= 10
        }
      }
      if (at === 20) return Number.NaN
      fraction = value / scale
    }
  }
  if (!(seconds < 61) || (hours === 24 && (minutes > 0 || seconds > 0 || fraction > 0))) return Number.NaN
  return midnight + hours * 3600 + minutes * 60 + seconds - zoneSeconds(text, at) + fraction
}

/** Whether a time that `isoSeconds` understood names its zone. */
export function statesZone(text: string): boolean {
  return /[Zz]$|[T ].*[+-]\d{2}(?::?\d{2})?$/i.test(text)
}

/**
 * ISO 8601 in UTC, to the millisecond; no fraction where it is zero. Faults: RangeError for NaN and for times outside the
 * years 0 to 9999.
 *
 * @example isoText(0.25) // '1970-01-01T00:00:00.250Z'
 */
export function isoText(seconds: number): string {
  const text = new Date(Math.round(seconds * 1000)).toISOString()
  if (text.length !== 24) throw new RangeError(`the time ${seconds} lies outside the years 0 to 9999`)
  return text.endsWith('.000Z') ? `${text.slice(0, 19)}Z` : text
}
