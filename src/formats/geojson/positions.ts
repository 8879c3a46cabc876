import { type Polygon, ringArea } from '#core/geometry'
import { Rejected } from './rejected.ts'

/** Positions of one line or ring. `z` is NaN where a position gives no height. */
export interface Positions {
  readonly xy: Float64Array
  readonly z: Float64Array
}

/** An array, or the reason why it is none. */
export function arrayOf(value: unknown, what: string): readonly unknown[] {
  if (!Array.isArray(value)) throw new Rejected('bad-value', `its ${what} are not nested as its type needs`)
  return value
}

/** Positions of RFC 7946 section 3.1.1: longitude, latitude, and perhaps a height. Cost: one pass. */
export function positions(value: unknown): Positions {
  const list = arrayOf(value, 'coordinates')
  const xy = new Float64Array(list.length * 2)
  const z = new Float64Array(list.length)
  for (let i = 0; i < list.length; i++) {
    const position = arrayOf(list[i], 'coordinates')
    const [lon, lat, height] = position
    if (typeof lon !== 'number' || typeof lat !== 'number') {
      throw new Rejected('bad-value', 'a position is not a longitude and a latitude')
    }
    if (!(Math.abs(lon) <= 180 && Math.abs(lat) <= 90)) throw outOfRange(lon, lat)
    xy[2 * i] = lon
    xy[2 * i + 1] = lat
    z[i] = typeof height === 'number' ? height : Number.NaN
  }
  return { xy, z }
}

function outOfRange(lon: number, lat: number): Rejected {
  if (Math.abs(lon) <= 90 && Math.abs(lat) <= 180) {
    return new Rejected('coordinates-swapped', `at [${lon}, ${lat}] latitude and longitude look swapped`)
  }
  const hint =
    Math.abs(lon) > 360 || Math.abs(lat) > 360
      ? '; these look like metres of a grid, where RFC 7946 has degrees on WGS84'
      : ''
  return new Rejected('coordinate-out-of-range', `[${lon}, ${lat}] is no longitude and latitude${hint}`)
}

/** A polygon of RFC 7946 section 3.1.6, whatever the winding of its rings; null for one without rings. */
export function polygonFrom(value: unknown): Polygon | null {
  const rings = arrayOf(value, 'coordinates').map((ring) => {
    const { xy } = positions(ring)
    const n = xy.length
    if (n < 8) throw new Rejected('area-invalid', 'a ring has fewer than four positions')
    if (xy[0] !== xy[n - 2] || xy[1] !== xy[n - 1]) {
      throw new Rejected('area-invalid', 'a ring is not closed: its last position must equal its first')
    }
    return xy
  })
  const outer = rings[0]
  if (outer === undefined) return null
  if (ringArea(outer) === 0) throw new Rejected('area-invalid', 'its outer ring encloses no ground')
  return { rings }
}
