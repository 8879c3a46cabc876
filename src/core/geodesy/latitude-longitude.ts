import { plainAngleText, type WrittenAngle, writtenAngles } from './angle-text.ts'
import { badCoordinate } from './square-figures.ts'

/** A place as latitude and longitude were written, degrees on WGS84. */
export interface LatLonReading {
  readonly lat: number
  readonly lon: number
  /** Size of one step of the last figure given, degrees: 0.0001 for four decimals, 1/3600 for whole seconds. */
  readonly latStep: number
  readonly lonStep: number
  /** What the reader should know of how the text was understood: one sentence each. */
  readonly warnings: readonly string[]
}

/** ISO 6709, such as +52.6579+001.7160/ or +523927.25+0014304.52/; heights and what follows are passed over. */
const iso6709 =
  /^([+-])(\d\d)(\d\d)?(\d\d)?(\.\d+)?([+-])(\d\d\d)(\d\d)?(\d\d)?(\.\d+)?(?:[+-][\d.]+)?(?:CRS\w+)?\/?$/
/** A geo: address (RFC 5870). */
const geoAddress = /^GEO:([+-]?\d+(?:\.\d+)?),([+-]?\d+(?:\.\d+)?)(?:[,;].*)?$/

/**
 * Latitude and longitude in any common notation: decimal degrees, degrees and minutes, degrees, minutes and seconds, with
 * signs or hemisphere letters before or after, with marks, words or neither, in one run (DDMMSS) beside a letter, ISO 6709,
 * geo: addresses. Latitude first unless letters or labels say otherwise. Null where the text is none of these.
 *
 * Faults: SurveyError('bad-coordinate') where it is one of these but cannot be a place.
 */
export function parseLatLon(text: string): LatLonReading | null {
  const tidy = text.trim().toUpperCase()
  const spelled = spellOut(tidy)
  if (spelled === null && (tidy.match(/\d,\d/g)?.length ?? 0) > 1) {
    throw badCoordinate(
      `"${text.trim()}" has commas inside its numbers; write decimals with a point, as in 52.6579, 1.7160.`,
    )
  }
  const angles = writtenAngles(plainAngleText(spelled ?? tidy))
  if (angles === null || angles.length === 0) return null
  if (angles.length !== 2) {
    throw badCoordinate(
      `"${text.trim()}" holds ${angles.length === 1 ? 'one angle' : `${angles.length} angles`}; a place needs a latitude and a longitude.`,
    )
  }
  return placed(angles[0]!, angles[1]!, text.trim())
}

/** The two packed standards brought to plain signed angles; null for any other text. */
function spellOut(tidy: string): string | null {
  const address = geoAddress.exec(tidy)
  if (address !== null) return `LAT ${address[1]} LON ${address[2]}`
  const packed = iso6709.exec(tidy)
  if (packed === null) return null
  const angle = (from: number): string =>
    packed[from]! +
    [...packed.slice(from + 1, from + 4).filter((part) => part !== undefined)].join(' ') +
    (packed[from + 4] ?? '')
  return `LAT ${angle(1)} LON ${angle(6)}`
}

function placed(first: WrittenAngle, second: WrittenAngle, text: string): LatLonReading {
  if (first.axis !== null && first.axis === second.axis) {
    throw badCoordinate(`"${text}" gives ${first.axis === 'lat' ? 'latitude' : 'longitude'} twice.`)
  }
  const warnings: string[] = []
  const named = first.axis !== null || second.axis !== null
  let lonFirst = first.axis === 'lon' || second.axis === 'lat'
  if (!named && Math.abs(first.degrees) > 90 && Math.abs(second.degrees) <= 90) {
    lonFirst = true
    warnings.push(
      'Latitude and longitude look swapped: the first number cannot be a latitude, so it was read as longitude.',
    )
  }
  const [lat, lon] = lonFirst ? [second, first] : [first, second]
  if (Math.abs(lat.degrees) > 90)
    throw badCoordinate(`"${text}" has latitude ${lat.degrees}; the poles are at 90 degrees.`)
  if (Math.abs(lon.degrees) > 360)
    throw badCoordinate(`"${text}" has longitude ${lon.degrees}; the circle has 360 degrees.`)
  const turned = lon.degrees > 180 ? lon.degrees - 360 : lon.degrees < -180 ? lon.degrees + 360 : lon.degrees
  if (turned !== lon.degrees) warnings.push(`Longitude ${lon.degrees} was read as ${turned}.`)
  if (!named && looksSwapped(lat.degrees, turned)) {
    warnings.push(
      'Latitude and longitude look swapped: read the other way round this lies in the British Isles. It was read latitude first.',
    )
  }
  return { lat: lat.degrees, lon: turned, latStep: lat.step, lonStep: lon.step, warnings }
}

/** True where the pair is far from the British Isles as it stands, and in them when turned round. */
function looksSwapped(lat: number, lon: number): boolean {
  const inIsles = (a: number, o: number): boolean => a > 49 && a < 61.5 && o > -11 && o < 2.5
  return !inIsles(lat, lon) && inIsles(lon, lat)
}

/** One angle in degrees, minutes and seconds with a hemisphere letter, seconds to `decimals`, carried correctly. */
export function formatAngle(degrees: number, axis: 'lat' | 'lon', decimals: number): string {
  const scale = 10 ** decimals
  const count = Math.round(Math.abs(degrees) * 3600 * scale)
  const seconds = (count % (60 * scale)) / scale
  const minutes = Math.floor(count / (60 * scale)) % 60
  const whole = Math.floor(count / (3600 * scale))
  const negative = degrees < 0 && count > 0
  const letter = axis === 'lat' ? (negative ? 'S' : 'N') : negative ? 'W' : 'E'
  const width = decimals === 0 ? 2 : decimals + 3
  return `${whole}°${String(minutes).padStart(2, '0')}'${seconds.toFixed(decimals).padStart(width, '0')}"${letter}`
}

/**
 * Latitude and longitude in degrees, minutes and seconds.
 *
 * @example formatLatLon(52.657_977, 1.716_038, 2) // 52°39'28.72"N 1°42'57.74"E
 */
export function formatLatLon(lat: number, lon: number, decimals: number): string {
  return `${formatAngle(lat, 'lat', decimals)} ${formatAngle(lon, 'lon', decimals)}`
}
