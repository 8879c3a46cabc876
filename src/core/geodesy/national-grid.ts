import { grs80 } from './ellipsoid.ts'
import {
  nationalGridProjection,
  projectNationalGrid,
  unprojectNationalGrid,
} from './national-grid-projection.ts'
import type { ShiftGrid } from './shift-grid.ts'

/** The National Grid projection on the ETRS89 ellipsoid: step one of OSTN15. */
const etrs89OnNationalGrid = nationalGridProjection(grs80)

/**
 * Adds (`sense` 1) the shift found at each planar position, or, with `sense` -1, takes off the shift found at the
 * position that results, by fixed-point iteration. The shifts change by at most some 0.3 m a km, so each round gains
 * more than three digits; it ends below a nanometre. Positions whose unshifted form lies outside the nodes become NaN.
 */
function shiftPairs(shift: ShiftGrid, xy: Float64Array, sense: 1 | -1): void {
  const { columns, rows, step, leastEast, leastNorth, millimetres } = shift
  const width = (columns - 1) * step
  const height = (rows - 1) * step
  const rounds = sense === 1 ? 1 : 12
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const x = xy[i]!
    const y = xy[i + 1]!
    let atX = x
    let atY = y
    let east = 0
    let north = 0
    for (let round = 0; round < rounds; round += 1) {
      const column = Math.min(Math.max(Math.floor(atX / step), 0), columns - 2)
      const row = Math.min(Math.max(Math.floor(atY / step), 0), rows - 2)
      const t = atX / step - column
      const u = atY / step - row
      const southWest = 2 * (row * columns + column)
      const northWest = southWest + 2 * columns
      const a = (1 - t) * (1 - u)
      const b = t * (1 - u)
      const c = t * u
      const d = (1 - t) * u
      east =
        (leastEast +
          a * millimetres[southWest]! +
          b * millimetres[southWest + 2]! +
          c * millimetres[northWest + 2]! +
          d * millimetres[northWest]!) /
        1000
      north =
        (leastNorth +
          a * millimetres[southWest + 1]! +
          b * millimetres[southWest + 3]! +
          c * millimetres[northWest + 3]! +
          d * millimetres[northWest + 1]!) /
        1000
      if (sense === 1) break
      const change = Math.abs(x - east - atX) + Math.abs(y - north - atY)
      atX = x - east
      atY = y - north
      if (!(change > 1e-9)) break
    }
    const inside = atX >= 0 && atX <= width && atY >= 0 && atY <= height
    xy[i] = inside ? (sense === 1 ? x + east : atX) : NaN
    xy[i + 1] = inside ? (sense === 1 ? y + north : atY) : NaN
  }
}

/**
 * WGS84 longitude, latitude to British National Grid easting, northing (EPSG 27700) by OSTN15.
 *
 * Units   degrees in, metres out; interleaved pairs; `out` may be `lonLat`.
 * CRS     WGS84 is taken as ETRS89 (docs/methods/geodesy.md says what that costs).
 * Method  the National Grid projection on GRS80, then the bilinear shift of the 1 km cell: Ordnance Survey, Transformations and
 *         OSGM15 user guide, section on OSTN15.
 * Limits  NaN outside the 700 x 1250 km of the shift grid; never another transformation instead.
 * Cost    under 1 microsecond a point (bench/geodesy.ts).
 */
export function toNationalGrid(shift: ShiftGrid, lonLat: Float64Array, out: Float64Array): void {
  projectNationalGrid(etrs89OnNationalGrid, lonLat, out)
  shiftPairs(shift, out, 1)
}

/** British National Grid easting, northing to WGS84 longitude, latitude: the inverse of `toNationalGrid`, by iteration. */
export function fromNationalGrid(shift: ShiftGrid, xy: Float64Array, out: Float64Array): void {
  if (out !== xy) out.set(xy)
  shiftPairs(shift, out, -1)
  unprojectNationalGrid(etrs89OnNationalGrid, out, out)
}
