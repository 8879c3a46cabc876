import { utmCentralMeridian } from '#core/geodesy'
import type { StatedProjection } from './stated-system.ts'

/** Latitude and longitude of the origin (degrees), scale there, easting and northing of the origin (metres). */
type Parameters = readonly [lat: number, lon: number, scale: number, easting: number, northing: number]

const nationalGrid: Parameters = [49, -2, 0.999_601_271_7, 400_000, -100_000]
const irishGrid: Parameters = [53.5, -8, 1.000_035, 200_000, 250_000]
const irishTransverseMercator: Parameters = [53.5, -8, 0.999_82, 600_000, 750_000]

/** Which grid of `planarGrid` has the parameters of a projection, whatever its datum; null for none. */
export function knownGrid(projection: StatedProjection): number | null {
  const stated = parametersOf(projection)
  if (stated === null) return null
  if (same(stated, nationalGrid)) return 27_700
  if (same(stated, irishGrid)) return 29_903
  if (same(stated, irishTransverseMercator)) return 2157
  for (let zone = 1; zone <= 60; zone++) {
    const utm = (northing: number): Parameters => [0, utmCentralMeridian(zone), 0.9996, 500_000, northing]
    if (same(stated, utm(0))) return 32_600 + zone
    if (same(stated, utm(10_000_000))) return 32_700 + zone
  }
  return null
}

function parametersOf({ method, parameters, metresPerUnit }: StatedProjection): Parameters | null {
  const transverse = ['transverse_mercator', 'transverse_mercator_complex', 'gauss_kruger']
  if (!transverse.includes(method) || metresPerUnit !== 1) return null
  const at = (name: string, otherwise: number): number => parameters.get(name) ?? otherwise
  return [
    at('latitude_of_origin', 0),
    at('central_meridian', 0),
    at('scale_factor', 1),
    at('false_easting', 0),
    at('false_northing', 0),
  ]
}

/** Definitions round the scale of the National Grid to nine or ten figures: 3e-10 of 1,300 km is 0.4 mm. */
const tolerances: Parameters = [1e-9, 1e-9, 1e-9, 1e-4, 1e-4]

function same(a: Parameters, b: Parameters): boolean {
  return tolerances.every((tolerance, i) => Math.abs(a[i]! - b[i]!) <= tolerance)
}
