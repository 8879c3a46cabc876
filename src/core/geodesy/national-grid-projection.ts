import type { Ellipsoid } from './ellipsoid.ts'
import {
  type TransverseMercator,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'

/** The National Grid on one ellipsoid, by the series that Ordnance Survey publishes for it. */
export interface NationalGridProjection {
  /** Scaled equatorial radius, metres, and eccentricity squared. */
  readonly radius: number
  readonly squared: number
  /** Meridian arc: northing = arc[0] phi + arc[1] sin 2 phi + arc[2] sin 4 phi + arc[3] sin 6 phi + arc[4]. */
  readonly arc: Float64Array
  /** The exact projection, from which the inverse begins. */
  readonly exact: TransverseMercator
}

const degree = Math.PI / 180
const falseEasting = 400_000
const originLon = -2

/** Makes the projection ready for an ellipsoid: GRS80 for OSTN15, Airy 1830 for OSGB36 latitudes and longitudes. */
export function nationalGridProjection(ellipsoid: Ellipsoid): NationalGridProjection {
  const { a, f } = ellipsoid
  const scale = 0.999_601_271_7
  const originLat = 49 * degree
  const n = f / (2 - f)
  const b = a * (1 - f) * scale
  const arc = Float64Array.of(
    b * (1 + n + (5 / 4) * n ** 2 + (5 / 4) * n ** 3),
    (-b * (3 * n + 3 * n ** 2 + (21 / 8) * n ** 3)) / 2,
    (b * (15 / 8) * (n ** 2 + n ** 3)) / 2,
    (-b * (35 / 24) * n ** 3) / 2,
    0,
  )
  const [one, two, four, six] = arc as unknown as [number, number, number, number]
  arc[4] =
    -100_000 -
    one * originLat -
    two * Math.sin(2 * originLat) -
    four * Math.sin(4 * originLat) -
    six * Math.sin(6 * originLat)
  return {
    radius: a * scale,
    squared: f * (2 - f),
    arc,
    exact: transverseMercator({
      ellipsoid,
      originLat: 49,
      centralMeridian: originLon,
      scale,
      falseEasting,
      falseNorthing: -100_000,
    }),
  }
}

/**
 * Longitude, latitude on the projection's ellipsoid to National Grid easting, northing.
 *
 * Units   degrees in, metres out; interleaved pairs; `out` may be `lonLat`.
 * Method  Ordnance Survey, A guide to coordinate systems in Great Britain, annex C, equations C1 to C5. The published
 *         stations were computed by this series, so it is kept although the exact projection differs from it by up to
 *         2.2 mm at the grid's north-west corner; the products of sines in C3 are written as sums, which changes no digit.
 * Limits  made for the grid's own extent; NaN more than 15 degrees from the central meridian.
 */
export function projectNationalGrid(
  projection: NationalGridProjection,
  lonLat: Float64Array,
  out: Float64Array,
): void {
  const { radius, squared } = projection
  const [one, two, four, six, constant] = projection.arc as unknown as [
    number,
    number,
    number,
    number,
    number,
  ]
  for (let i = 0; i + 1 < lonLat.length; i += 2) {
    const turns = (lonLat[i]! - originLon) / 360
    const l = (turns - Math.round(turns)) * 2 * Math.PI
    const lat = lonLat[i + 1]!
    if (!(Math.abs(l) <= 15 * degree && Math.abs(lat) <= 85)) {
      out[i] = NaN
      out[i + 1] = NaN
      continue
    }
    const phi = lat * degree
    const sin = Math.sin(phi)
    const cos = Math.cos(phi)
    const sin2 = 2 * sin * cos
    const cos2 = 1 - 2 * sin * sin
    const sin4 = 2 * sin2 * cos2
    const sin6 = sin4 * cos2 + (1 - 2 * sin2 * sin2) * sin2
    const meridian = one * phi + two * sin2 + four * sin4 + six * sin6 + constant
    const w = 1 - squared * sin * sin
    const nu = radius / Math.sqrt(w)
    const ratio = w / (1 - squared)
    const eta2 = ratio - 1
    const tan2 = (sin / cos) ** 2
    const tan4 = tan2 * tan2
    const q = l * cos
    const q2 = q * q
    const east3 = (ratio - tan2) / 6
    const east5 = (5 - 18 * tan2 + tan4 + 14 * eta2 - 58 * tan2 * eta2) / 120
    const north3 = (5 - tan2 + 9 * eta2) / 24
    const north5 = (61 - 58 * tan2 + tan4) / 720
    out[i] = falseEasting + nu * q * (1 + q2 * (east3 + q2 * east5))
    out[i + 1] = meridian + nu * (sin / cos) * q2 * (0.5 + q2 * (north3 + q2 * north5))
  }
}

/**
 * National Grid easting, northing to longitude, latitude on the projection's ellipsoid: the exact inverse of
 * `projectNationalGrid` (not the guide's own inverse series, which misses it by millimetres far from the meridian).
 *
 * Method  Karney's inverse, projected forward by the series, and once more from a position moved by the difference. The two
 *         projections differ by millimetres and that hardly changes over millimetres, so one such step reaches rounding.
 * Cost    about 0.6 microseconds a point, and a copy of `xy`.
 */
export function unprojectNationalGrid(
  projection: NationalGridProjection,
  xy: Float64Array,
  out: Float64Array,
): void {
  const moved = new Float64Array(xy.length)
  unprojectTransverseMercator(projection.exact, xy, moved)
  projectNationalGrid(projection, moved, moved)
  for (let i = 0; i < xy.length; i += 1) moved[i] = 2 * xy[i]! - moved[i]!
  unprojectTransverseMercator(projection.exact, moved, out)
}
