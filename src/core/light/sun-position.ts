const degrees = 180 / Math.PI

/** Where the sun stands among the stars, seen from the middle of the earth. Degrees. */
export interface SunPlace {
  /** Apparent right ascension, 0 up to 360. */
  readonly rightAscension: number
  /** Apparent declination. */
  readonly declination: number
}

/** Where the sun stands in the sky of a place, without refraction. Degrees. */
export interface SunInSky {
  /** Of its middle above the level horizon. */
  readonly altitude: number
  /** From true north, clockwise, 0 up to 360. */
  readonly azimuth: number
  /** Past the meridian, -180 up to 180. */
  readonly hourAngle: number
}

const unixEpochDay = 2_440_587.5
const j2000 = 2_451_545
/**
 * Terrestrial time less universal time, seconds, as of the years 2017 to 2026 (International Earth Rotation Service). The sun moves 0.0001 degrees in
 * 10 seconds, so that other years need no other value.
 */
const deltaT = 69.2

/**
 * Place of the sun by its Julian ephemeris day.
 *
 * Method  Meeus, Astronomical Algorithms, 2nd edition 1998, chapter 25, the method of lower accuracy: good to 0.01 degrees.
 * @example sunPlace(2448908.5) // right ascension 198.381, declination -7.785: Meeus' example 25.a
 */
export function sunPlace(ephemerisDay: number): SunPlace {
  const t = (ephemerisDay - j2000) / 36_525
  const meanLongitude = 280.46646 + t * (36_000.76983 + t * 0.0003032)
  const anomaly = (357.52911 + t * (35_999.05029 - t * 0.0001537)) / degrees
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly)
  const node = lunarNode(t)
  const longitude = (meanLongitude + centre - 0.00569 - 0.00478 * Math.sin(node)) / degrees
  const tilt = obliquity(t, node)
  const rightAscension = Math.atan2(Math.cos(tilt) * Math.sin(longitude), Math.cos(longitude)) * degrees
  const declination = Math.asin(Math.sin(tilt) * Math.sin(longitude)) * degrees
  return { rightAscension: (rightAscension + 360) % 360, declination }
}

/** Mean longitude of the moon's ascending node, radians, by Julian centuries from 2000. */
const lunarNode = (t: number): number => (125.04 - 1934.136 * t) / degrees

/** Obliquity of the ecliptic with its nutation, radians. Meeus (22.2), (25.8). */
function obliquity(t: number, node: number): number {
  const mean = 84_381.448 - t * (46.815 + t * (0.00059 - t * 0.001813))
  return (mean / 3600 + 0.00256 * Math.cos(node)) / degrees
}

/** Apparent sidereal time at Greenwich, degrees 0 up to 360, by Julian day (UT). Meeus (12.4), with the main term of nutation. */
export function siderealTime(julianDay: number): number {
  const days = julianDay - j2000
  const t = days / 36_525
  const mean = 280.46061837 + 360.98564736629 * days + t * t * (0.000387933 - t / 38_710_000)
  const node = lunarNode(t)
  const apparent = mean - 0.00478 * Math.sin(node) * Math.cos(obliquity(t, node))
  return ((apparent % 360) + 360) % 360
}

/**
 * Where the sun stands in the sky.
 *
 * Units   seconds since 1970-01-01 UTC; longitude (east positive) and latitude in degrees on WGS84.
 * Method  Meeus, chapters 13 and 25; without parallax (0.0024 degrees) and refraction.
 * Limits  good to about 0.01 degrees from 1950 to 2050.
 */
export function sunInSky(time: number, lon: number, lat: number): SunInSky {
  const day = unixEpochDay + time / 86_400
  const { rightAscension, declination } = sunPlace(day + deltaT / 86_400)
  const turned = siderealTime(day) + lon - rightAscension
  const hourAngle = ((((turned + 180) % 360) + 360) % 360) - 180
  const [h, d, phi] = [hourAngle / degrees, declination / degrees, lat / degrees]
  const sine = Math.sin(phi) * Math.sin(d) + Math.cos(phi) * Math.cos(d) * Math.cos(h)
  const azimuth =
    Math.atan2(Math.sin(h), Math.cos(h) * Math.sin(phi) - Math.tan(d) * Math.cos(phi)) * degrees + 180
  return { altitude: Math.asin(Math.min(1, Math.max(-1, sine))) * degrees, azimuth: azimuth % 360, hourAngle }
}
