import { sunInSky } from './sun-position.ts'

/** What the sun does at one altitude in the course of a day. */
export type Crossing =
  | { readonly kind: 'crosses'; readonly rise: number; readonly set: number }
  /** Above all day, or below all day. */
  | { readonly kind: 'above' }
  | { readonly kind: 'below' }

/** The light of one day at one place. Times in seconds since 1970-01-01 UTC. */
export interface DayLight {
  /** When the sun stands highest, and how high, degrees. */
  readonly noon: number
  readonly noonAltitude: number
  /** Sunrise and sunset: the upper rim on the level horizon, with ordinary refraction. */
  readonly sun: Crossing
  /** Civil dawn and dusk: the sun's middle 6 degrees below the horizon. */
  readonly civil: Crossing
}

/** Altitude of the sun's middle at sunrise and sunset, degrees: 34' of refraction and 16' of radius. */
const sunriseAltitude = -50 / 60
const civilAltitude = -6
const halfDay = 43_200
const secondsADegree = 240

/**
 * Sunrise, sunset, civil dawn and dusk.
 *
 * Units   `day` is 0h UTC of the date in seconds since 1970-01-01; the noon found is the one of that date by the place's own sun, so in
 *         far longitudes sunrise or sunset may fall on the UTC date beside it. Longitude east positive, latitude, degrees.
 * Method  noon by its hour angle; then the crossing before and after it by halving.
 * Limits  for a level horizon and ordinary air: a minute or two either way on the ground. Within days of the polar day or night the
 *         crossing may be told a day early or late.
 * Source  docs/methods/light.md
 * Faults  RangeError for a day or place that is none.
 */
export function dayLight(day: number, lon: number, lat: number): DayLight {
  if (!Number.isFinite(day)) throw new RangeError(`a day is a number of seconds, got ${day}`)
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 360)) throw new RangeError(`no such place: ${lat}, ${lon}`)
  let noon = day + halfDay - lon * secondsADegree
  for (let step = 0; step < 4; step++) noon -= sunInSky(noon, lon, lat).hourAngle * secondsADegree
  return {
    noon,
    noonAltitude: sunInSky(noon, lon, lat).altitude,
    sun: crossing(sunriseAltitude, noon, lon, lat),
    civil: crossing(civilAltitude, noon, lon, lat),
  }
}

function crossing(altitude: number, noon: number, lon: number, lat: number): Crossing {
  const above = (time: number): boolean => sunInSky(time, lon, lat).altitude > altitude
  if (!above(noon)) return { kind: 'below' }
  if (above(noon - halfDay) || above(noon + halfDay)) return { kind: 'above' }
  const between = (low: number, high: number): number => {
    let [down, up] = [low, high]
    for (let step = 0; step < 32; step++) {
      const middle = (down + up) / 2
      if (above(middle)) up = middle
      else down = middle
    }
    return (down + up) / 2
  }
  return { kind: 'crosses', rise: between(noon - halfDay, noon), set: between(noon + halfDay, noon) }
}

/**
 * Seconds from `time` until it gets dark on the day of `light`: to sunset and to the end of civil twilight. 0 where that is past, or the sun
 * stays down; null where it does not get dark that day. Before dawn the light of the whole day counts, the rest of the night does not.
 */
export function daylightLeft(time: number, light: DayLight): { sunS: number | null; civilS: number | null } {
  return { sunS: left(time, light.sun), civilS: left(time, light.civil) }
}

function left(time: number, crossing: Crossing): number | null {
  if (crossing.kind === 'above') return null
  return crossing.kind === 'below' ? 0 : Math.max(0, crossing.set - Math.max(time, crossing.rise))
}
