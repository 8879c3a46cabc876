import { airyModified1849 } from './ellipsoid.ts'
import {
  projectTransverseMercator,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'

/** The Irish Grid of 1975 (EPSG 29903). */
const irishGrid = transverseMercator({
  ellipsoid: airyModified1849,
  originLat: 53.5,
  centralMeridian: -8,
  scale: 1.000_035,
  falseEasting: 200_000,
  falseNorthing: 250_000,
})

/**
 * The polynomial of Ordnance Survey Ireland and Land and Property Services, degree 3 in each of latitude and longitude:
 * seconds of arc to add to a position of 1975 to get ETRS89. Row i, column j multiplies U^i V^j (EPSG 1041 and 1042).
 * Copyright Ordnance Survey Ireland, 2002; Crown copyright 2002, all rights reserved. Licence: docs/methods/geodesy.md.
 */
// biome-ignore format: a table
const latitudeSeconds = Float64Array.of(
   0.763,  0.123,   0.183,   -0.374,
  -4.487, -0.515,   0.414,   13.110,
   0.215, -0.570,   5.703,  113.743,
  -0.265,  2.852, -61.678, -265.898,
)
// biome-ignore format: a table
const longitudeSeconds = Float64Array.of(
  -2.810,  -4.680,   0.170,    2.163,
  -0.341,  -0.119,   3.913,   18.867,
   1.196,   4.877, -27.795, -284.294,
  -0.887, -46.666, -95.377, -853.950,
)

/** Where the polynomial was fitted, with a little sea around it: longitude and latitude, degrees. */
const reach = { west: -10.9, east: -5.2, south: 51.2, north: 55.6 }

function polynomial(coefficients: Float64Array, u: number, v: number): number {
  let sum = 0
  for (let i = 3; i >= 0; i -= 1) {
    const k = 4 * i
    const row =
      coefficients[k]! + v * (coefficients[k + 1]! + v * (coefficients[k + 2]! + v * coefficients[k + 3]!))
    sum = sum * u + row
  }
  return sum
}

/** Degrees to add to a 1975 latitude, or longitude, to get ETRS89. */
function shiftDegrees(coefficients: Float64Array, lon: number, lat: number): number {
  return polynomial(coefficients, 0.1 * (lat - 53.5), 0.1 * (lon + 7.7)) / 3600
}

function inReach(lon: number, lat: number): boolean {
  return lon >= reach.west && lon <= reach.east && lat >= reach.south && lat <= reach.north
}

/**
 * Longitude, latitude of the Irish datum of 1975 to ETRS89, in place.
 * Method: IOGP Guidance Note 7-2, general polynomial of degree 3 (EPSG 1041). NaN outside the island's waters.
 */
export function etrs89FromIreland1975(lonLat: Float64Array): void {
  for (let i = 0; i + 1 < lonLat.length; i += 2) {
    const lon = lonLat[i]!
    const lat = lonLat[i + 1]!
    const known = inReach(lon, lat)
    lonLat[i] = known ? lon + shiftDegrees(longitudeSeconds, lon, lat) : NaN
    lonLat[i + 1] = known ? lat + shiftDegrees(latitudeSeconds, lon, lat) : NaN
  }
}

/** The inverse of `etrs89FromIreland1975`, by fixed-point iteration: each round gains three digits, six are made. */
function ireland1975FromEtrs89(lonLat: Float64Array): void {
  for (let i = 0; i + 1 < lonLat.length; i += 2) {
    const lon = lonLat[i]!
    const lat = lonLat[i + 1]!
    let oldLon = lon
    let oldLat = lat
    for (let round = 0; round < 6; round += 1) {
      const nextLon = lon - shiftDegrees(longitudeSeconds, oldLon, oldLat)
      oldLat = lat - shiftDegrees(latitudeSeconds, oldLon, oldLat)
      oldLon = nextLon
    }
    const known = inReach(oldLon, oldLat)
    lonLat[i] = known ? oldLon : NaN
    lonLat[i + 1] = known ? oldLat : NaN
  }
}

/**
 * WGS84 longitude, latitude to Irish Grid easting, northing (EPSG 29903), by the polynomial.
 *
 * Units   degrees in, metres out; interleaved pairs; `out` may be `lonLat`.
 * Limits  about 0.4 m at 95 % (IOGP registry, EPSG 1041). NaN outside the island of Ireland and its waters.
 * Cost    about 0.5 microseconds a point.
 */
export function toIrishGrid(lonLat: Float64Array, out: Float64Array): void {
  if (out !== lonLat) out.set(lonLat)
  ireland1975FromEtrs89(out)
  projectTransverseMercator(irishGrid, out, out)
}

/** Irish Grid easting, northing to WGS84 longitude, latitude. */
export function fromIrishGrid(xy: Float64Array, out: Float64Array): void {
  unprojectTransverseMercator(irishGrid, xy, out)
  etrs89FromIreland1975(out)
}
