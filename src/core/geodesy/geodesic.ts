import geographiclib from 'geographiclib-geodesic'
import { wholeCircle } from './convergence.ts'

const earth = geographiclib.Geodesic.WGS84

/** The shortest way between two places: length in metres, and its bearings from true north at either end, degrees. */
export interface GeodesicLine {
  readonly distanceM: number
  /** Bearing on leaving the first place, 0 up to 360. */
  readonly startBearing: number
  /** Bearing on reaching the second place, still going forward. */
  readonly endBearing: number
}

/**
 * The geodesic between two places on WGS84, degrees in.
 * Method  Karney 2013, Algorithms for geodesics, by geographiclib-geodesic; about 15 nanometres.
 */
export function geodesicLine(lon1: number, lat1: number, lon2: number, lat2: number): GeodesicLine {
  const line = earth.Inverse(lat1, lon1, lat2, lon2)
  return {
    distanceM: line.s12!,
    startBearing: wholeCircle(line.azi1!),
    endBearing: wholeCircle(line.azi2!),
  }
}

/** The place reached from another by going so many metres on a bearing from true north: longitude, latitude, degrees. */
export function geodesicPoint(
  lon: number,
  lat: number,
  bearing: number,
  distanceM: number,
): [lon: number, lat: number] {
  const line = earth.Direct(lat, lon, bearing, distanceM)
  return [line.lon2!, line.lat2!]
}

/**
 * Area in square metres and perimeter in metres of a ring of longitude, latitude pairs on WGS84, its sides geodesics.
 * The ring may be closed or not and run either way; it must not cross itself. Cost: one geodesic a side.
 */
export function geodesicArea(ring: Float64Array): { areaM2: number; perimeterM: number } {
  const polygon = earth.Polygon(false)
  const last = ring.length - 2
  const closed = last > 0 && ring[0] === ring[last] && ring[1] === ring[last + 1]
  for (let i = 0; i + 1 < (closed ? last : ring.length); i += 2) polygon.AddPoint(ring[i + 1]!, ring[i]!)
  const { area, perimeter } = polygon.Compute(false, true)
  return { areaM2: Math.abs(area ?? 0), perimeterM: perimeter }
}
