import { conformalTangent, geographicTangent } from './conformal-latitude.ts'
import type { Ellipsoid } from './ellipsoid.ts'

/** What a grid on the transverse Mercator projection states of itself. Degrees and metres. */
export interface TransverseMercatorParameters {
  readonly ellipsoid: Ellipsoid
  readonly originLat: number
  readonly centralMeridian: number
  readonly scale: number
  readonly falseEasting: number
  readonly falseNorthing: number
}

/** The same made ready for use: eccentricity, scaled rectifying radius, and the series of order 6 both ways. */
export interface TransverseMercator extends TransverseMercatorParameters {
  readonly eccentricity: number
  /** Rectifying radius times the scale on the central meridian (k0 A of the paper), metres. */
  readonly radius: number
  readonly alpha: Float64Array
  readonly beta: Float64Array
  /** Northing to add so that the origin's latitude gets the false northing. */
  readonly northingAtOrigin: number
}

const degree = Math.PI / 180

/**
 * Sine of 35 degrees: how far from the central meridian, by arc, a point may lie. Up to here the series of order 6 is
 * good to 5 nanometres (Karney 2011, section 4, 3900 km); past it the answer is NaN.
 */
const furthest = 0.573_576_436_351_046

/** Karney 2011, equation 35: from conformal to rectifying coordinates, by powers of the third flattening. */
function forwardSeries(n: number): Float64Array {
  return Float64Array.of(
    n * (1 / 2 + n * (-2 / 3 + n * (5 / 16 + n * (41 / 180 + n * (-127 / 288 + (n * 7891) / 37_800))))),
    n ** 2 * (13 / 48 + n * (-3 / 5 + n * (557 / 1440 + n * (281 / 630 - (n * 1_983_433) / 1_935_360)))),
    n ** 3 * (61 / 240 + n * (-103 / 140 + n * (15_061 / 26_880 + (n * 167_603) / 181_440))),
    n ** 4 * (49_561 / 161_280 + n * (-179 / 168 + (n * 6_601_661) / 7_257_600)),
    n ** 5 * (34_729 / 80_640 - (n * 3_418_889) / 1_995_840),
    (n ** 6 * 212_378_941) / 319_334_400,
  )
}

/** Karney 2011, equation 36: the way back. */
function inverseSeries(n: number): Float64Array {
  return Float64Array.of(
    n * (1 / 2 + n * (-2 / 3 + n * (37 / 96 + n * (-1 / 360 + n * (-81 / 512 + (n * 96_199) / 604_800))))),
    n ** 2 * (1 / 48 + n * (1 / 15 + n * (-437 / 1440 + n * (46 / 105 - (n * 1_118_711) / 3_870_720)))),
    n ** 3 * (17 / 480 + n * (-37 / 840 + n * (-209 / 4480 + (n * 5569) / 90_720))),
    n ** 4 * (4397 / 161_280 + n * (-11 / 504 - (n * 830_251) / 7_257_600)),
    n ** 5 * (4583 / 161_280 - (n * 108_847) / 3_991_680),
    (n ** 6 * 20_648_693) / 638_668_800,
  )
}

/** Makes a projection ready. */
export function transverseMercator(parameters: TransverseMercatorParameters): TransverseMercator {
  const { a, f } = parameters.ellipsoid
  const n = f / (2 - f)
  const radius = (parameters.scale * a * (1 + n ** 2 / 4 + n ** 4 / 64 + n ** 6 / 256)) / (1 + n)
  const alpha = forwardSeries(n)
  const eccentricity = Math.sqrt(f * (2 - f))
  const conformal = Math.atan(conformalTangent(Math.tan(parameters.originLat * degree), eccentricity))
  const rectifying = alpha.reduce((sum, term, k) => sum + term * Math.sin(2 * (k + 1) * conformal), conformal)
  return {
    ...parameters,
    eccentricity,
    radius,
    alpha,
    beta: inverseSeries(n),
    northingAtOrigin: parameters.falseNorthing - (parameters.originLat === 0 ? 0 : radius * rectifying),
  }
}

/**
 * Longitude, latitude to easting, northing.
 *
 * Units   degrees in, metres out; interleaved pairs; `out` may be `lonLat`.
 * Method  Karney 2011 (Transverse Mercator with an accuracy of a few nanometers, J. Geodesy 85), equations 7 to 11;
 *         the doubled angles of equation 11 come from the sines already known, by Clenshaw's sum on complex numbers.
 * Limits  NaN beyond 35 degrees of arc from the central meridian and beyond the poles.
 * Cost    one pass, about 0.2 microseconds a point.
 */
export function projectTransverseMercator(
  tm: TransverseMercator,
  lonLat: Float64Array,
  out: Float64Array,
): void {
  const { eccentricity: e, radius, falseEasting, northingAtOrigin, centralMeridian } = tm
  const [a1, a2, a3, a4, a5, a6] = tm.alpha as unknown as [number, number, number, number, number, number]
  for (let i = 0; i + 1 < lonLat.length; i += 2) {
    const lambda = (lonLat[i]! - centralMeridian) * degree
    const lat = lonLat[i + 1]!
    const phi = lat * degree
    const cosPhi = Math.cos(phi)
    const sinPhi = Math.sin(phi)
    const sinLambda = Math.sin(lambda)
    const cosLambda = Math.cos(lambda)
    if (!(lat >= -90 && lat <= 90 && Math.abs(sinLambda * cosPhi) <= furthest)) {
      out[i] = NaN
      out[i + 1] = NaN
      continue
    }
    // Equations 7 to 9, with tau = sinPhi / cosPhi and both sides multiplied by cosPhi, so that the poles need no care.
    const sigma = Math.sinh(e * Math.atanh(e * sinPhi))
    const t = sinPhi * Math.sqrt(1 + sigma * sigma) - sigma
    const c = cosPhi * cosLambda
    const s = cosPhi * sinLambda
    const hypotenuse = Math.sqrt(t * t + c * c)
    const sinXi = t / hypotenuse
    const cosXi = c / hypotenuse
    const sinhEta = s / hypotenuse
    const coshEta = Math.sqrt(1 + sinhEta * sinhEta)
    // cos and sin of 2(xi + i eta)
    const cos2 = 1 - 2 * sinXi * sinXi
    const sin2 = 2 * sinXi * cosXi
    const cosh2 = 1 + 2 * sinhEta * sinhEta
    const sinh2 = 2 * sinhEta * coshEta
    const cr = 2 * cos2 * cosh2
    const ci = -2 * sin2 * sinh2
    const r6 = a6
    const r5 = a5 + cr * r6
    const i5 = ci * r6
    const r4 = a4 + cr * r5 - ci * i5 - r6
    const i4 = cr * i5 + ci * r5
    const r3 = a3 + cr * r4 - ci * i4 - r5
    const i3 = cr * i4 + ci * r4 - i5
    const r2 = a2 + cr * r3 - ci * i3 - r4
    const i2 = cr * i3 + ci * r3 - i4
    const r1 = a1 + cr * r2 - ci * i2 - r3
    const i1 = cr * i2 + ci * r2 - i3
    const sr = sin2 * cosh2
    const si = cos2 * sinh2
    out[i] = falseEasting + radius * (Math.asinh(sinhEta) + sr * i1 + si * r1)
    out[i + 1] = northingAtOrigin + radius * (Math.atan2(t, c) + sr * r1 - si * i1)
  }
}

/**
 * Easting, northing to longitude, latitude.
 *
 * Units   metres in, degrees out; interleaved pairs; `out` may be `xy`. Longitude from -180 up to 180.
 * Method  Karney 2011, equations 15 to 21; Newton's method for the latitude, two or three steps.
 * Limits  NaN beyond 35 degrees of arc from the central meridian.
 * Cost    one pass, about 0.3 microseconds a point.
 */
export function unprojectTransverseMercator(
  tm: TransverseMercator,
  xy: Float64Array,
  out: Float64Array,
): void {
  const { eccentricity, radius, falseEasting, northingAtOrigin, centralMeridian } = tm
  const [b1, b2, b3, b4, b5, b6] = tm.beta as unknown as [number, number, number, number, number, number]
  const widest = Math.atanh(furthest) * 1.01
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const eta = (xy[i]! - falseEasting) / radius
    const xi = (xy[i + 1]! - northingAtOrigin) / radius
    if (!(Math.abs(eta) <= widest && Math.abs(xi) <= Math.PI)) {
      out[i] = NaN
      out[i + 1] = NaN
      continue
    }
    const sin2 = Math.sin(2 * xi)
    const cos2 = Math.cos(2 * xi)
    const up = Math.exp(2 * eta)
    const cosh2 = (up + 1 / up) / 2
    const sinh2 = Math.sinh(2 * eta)
    const cr = 2 * cos2 * cosh2
    const ci = -2 * sin2 * sinh2
    const r6 = b6
    const r5 = b5 + cr * r6
    const i5 = ci * r6
    const r4 = b4 + cr * r5 - ci * i5 - r6
    const i4 = cr * i5 + ci * r5
    const r3 = b3 + cr * r4 - ci * i4 - r5
    const i3 = cr * i4 + ci * r4 - i5
    const r2 = b2 + cr * r3 - ci * i3 - r4
    const i2 = cr * i3 + ci * r3 - i4
    const r1 = b1 + cr * r2 - ci * i2 - r3
    const i1 = cr * i2 + ci * r2 - i3
    const sr = sin2 * cosh2
    const si = cos2 * sinh2
    const xiPrime = xi - (sr * r1 - si * i1)
    const sinhEta = Math.sinh(eta - (sr * i1 + si * r1))
    const cosXi = Math.cos(xiPrime)
    const tauPrime = Math.sin(xiPrime) / Math.sqrt(sinhEta * sinhEta + cosXi * cosXi)
    const lon = centralMeridian + Math.atan2(sinhEta, cosXi) / degree
    out[i] = lon >= 180 ? lon - 360 : lon < -180 ? lon + 360 : lon
    out[i + 1] = Math.atan(geographicTangent(tauPrime, eccentricity)) / degree
  }
}
