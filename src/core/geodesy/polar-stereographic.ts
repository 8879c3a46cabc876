import { conformalTangent, geographicTangent } from './conformal-latitude.ts'
import { wgs84 } from './ellipsoid.ts'

/** The universal polar stereographic grid. Source: NGA.SIG.0012 (2014), part 8; Snyder 1987, page 161. */
const scaleAtPole = 0.994
const falseOrigin = 2_000_000
const eccentricity = Math.sqrt(wgs84.f * (2 - wgs84.f))
const degree = Math.PI / 180

/** Twice the scaled radius of the sphere that the conformal sphere's pole maps to; Snyder's equation 21-33 with k0. */
const polarRadius =
  (2 * wgs84.a * scaleAtPole) /
  Math.sqrt((1 + eccentricity) ** (1 + eccentricity) * (1 - eccentricity) ** (1 - eccentricity))

/** No further from the pole than this latitude, degrees, north or south. */
const lowest = 60

/**
 * Longitude, latitude to easting, northing of the polar grid of the north (`pole` 1, EPSG 5041) or the south (-1, 5042).
 * Degrees in, metres out, interleaved pairs, `out` may be `lonLat`. NaN more than 30 degrees from the pole.
 */
export function projectPolar(pole: 1 | -1, lonLat: Float64Array, out: Float64Array): void {
  for (let i = 0; i + 1 < lonLat.length; i += 2) {
    const lambda = lonLat[i]! * degree
    const lat = pole * lonLat[i + 1]!
    const near = lat >= lowest && lat <= 90
    const tau = conformalTangent(Math.tan(lat * degree), eccentricity)
    const rho = lat === 90 ? 0 : polarRadius / (tau + Math.sqrt(1 + tau * tau))
    out[i] = near ? falseOrigin + rho * Math.sin(lambda) : NaN
    out[i + 1] = near ? falseOrigin - pole * rho * Math.cos(lambda) : NaN
  }
}

/** Easting, northing of a polar grid to longitude, latitude. The pole itself gets longitude 0. */
export function unprojectPolar(pole: 1 | -1, xy: Float64Array, out: Float64Array): void {
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const x = xy[i]! - falseOrigin
    const y = -pole * (xy[i + 1]! - falseOrigin)
    const t = Math.sqrt(x * x + y * y) / polarRadius
    const lat = t === 0 ? 90 : Math.atan(geographicTangent((1 / t - t) / 2, eccentricity)) / degree
    const near = lat >= lowest
    const lon = t === 0 ? 0 : Math.atan2(x, y) / degree
    out[i] = near ? (lon >= 180 ? lon - 360 : lon) : NaN
    out[i + 1] = near ? pole * lat : NaN
  }
}
