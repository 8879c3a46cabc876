const halfHour = 1800
const day = 86_400
/** No zone is farther from UTC, seconds. */
const farthestZone = 14 * 3600

/** How a camera's clock stands: seconds ahead of UTC by its zone, and seconds to add to it beyond that. */
export interface CameraClock {
  readonly zoneS: number
  readonly clockS: number
}

/**
 * The clock of a camera that read `localS` at the moment `trueS` (UTC), both seconds since 1970. Where the photograph tells its zone that is kept, else the
 * zone is the half hour nearest to what lies between the two; more than a zone can be is a wrong date, and all of it is the clock's.
 */
export function clockBy(localS: number, trueS: number, toldZoneS: number | null): CameraClock {
  const apart = localS - trueS
  const nearest = halfHour * Math.round(apart / halfHour)
  const zoneS = toldZoneS ?? (Math.abs(nearest) <= farthestZone ? nearest : 0)
  return { zoneS, clockS: zoneS - apart }
}

const two = (value: number): string => String(value).padStart(2, '0')

/** UTC, UTC+01:00 */
export function zoneText(zoneS: number): string {
  if (zoneS === 0) return 'UTC'
  const minutes = Math.round(Math.abs(zoneS) / 60)
  return `UTC${zoneS < 0 ? '−' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

/** Seconds of `+01:00`. */
export function zoneSeconds(zone: string): number {
  const [hours = 0, minutes = 0] = zone.slice(1).split(':').map(Number)
  return (zone.startsWith('-') ? -1 : 1) * (hours * 3600 + minutes * 60)
}

/** Seconds since 1970 of a moment as it was typed, `2026-09-12 09:14:30` in UTC, or `09:14:30` on the day of `near`; null for anything else. */
export function typedMoment(text: string, near: number): number | null {
  const found = /^(?:(\d{4}-\d\d-\d\d)[ T])?(\d\d?):(\d\d)(?::(\d\d))?$/.exec(text.trim())
  if (found === null) return null
  const [, date, hour, minute, second = '0'] = found
  const midnight = date === undefined ? day * Math.floor(near / day) : Date.parse(`${date}T00:00:00Z`) / 1000
  const of = [hour, minute, second].map(Number) as [number, number, number]
  if (Number.isNaN(midnight) || of[0] > 23 || of[1] > 59 || of[2] > 59) return null
  return midnight + of[0] * 3600 + of[1] * 60 + of[2]
}
