import { SurveyError } from '#core/faults'
import type { Ground } from './marks-ground.ts'

/** A candidate as a feature: a point, or a line or an outline where it has one. */
interface Drawn {
  readonly kind: string
  readonly x: number
  readonly y: number
  readonly coordinates?: readonly (readonly [number, number])[]
}

/**
 * RFC 7946 on WGS84; in the raster's own system with the member `crs` of GeoJSON 2008, which GIS programs read.
 * Faults: SurveyError 'unknown-system' where the own system has no code.
 */
export function marksGeoJson(
  candidates: readonly Drawn[],
  ground: Ground,
  system: 'wgs84' | 'layer',
): string {
  if (system === 'layer' && ground.epsg === null) {
    throw new SurveyError(
      'unknown-system',
      'The system of the raster has no EPSG code, so it cannot be named in GeoJSON; write WGS84.',
    )
  }
  const digits = system === 'wgs84' ? 8 : 3
  const features = candidates.map((candidate, i) => {
    const { coordinates: places, ...properties } = candidate
    const xy = Float64Array.from(places ? places.flat() : [candidate.x, candidate.y])
    if (system === 'wgs84') ground.toWgs84(xy)
    const rounded = Array.from({ length: xy.length / 2 }, (_, n) => [
      Number(xy[2 * n]!.toFixed(digits)),
      Number(xy[2 * n + 1]!.toFixed(digits)),
    ])
    return {
      type: 'Feature',
      geometry: places ? shape(candidate.kind, rounded) : { type: 'Point', coordinates: rounded[0] },
      properties: { ...properties, rank: i + 1 },
    }
  })
  const crs =
    system === 'wgs84'
      ? {}
      : { crs: { type: 'name', properties: { name: `urn:ogc:def:crs:EPSG::${ground.epsg}` } } }
  return `${JSON.stringify({ type: 'FeatureCollection', ...crs, features })}\n`
}

/** An outline is given anticlockwise, as RFC 7946 asks. */
function shape(kind: string, places: number[][]): { type: string; coordinates: unknown } {
  if (kind !== 'enclosure') return { type: 'LineString', coordinates: places }
  let twice = 0
  for (let i = 1; i < places.length; i++)
    twice += places[i - 1]![0]! * places[i]![1]! - places[i]![0]! * places[i - 1]![1]!
  return { type: 'Polygon', coordinates: [twice < 0 ? places.toReversed() : places] }
}
