import { toNationalGrid } from './national-grid.ts'
import type { ShiftGrid } from './shift-grid.ts'
import { utmEpsg } from './utm-zone.ts'

/**
 * The island of Ireland and its own islands, by a line drawn through the middle of the seas around it, longitude,
 * latitude. Rathlin, the Copelands and Lambay fall inside; Islay, Kintyre, Galloway, Man and Wales outside.
 */
const aroundIreland = [
  [-11.6, 51.0],
  [-6.0, 51.0],
  [-5.85, 52.0],
  [-5.4, 53.4],
  [-5.15, 54.0],
  [-5.25, 54.55],
  [-5.4, 54.85],
  [-5.95, 55.25],
  [-6.6, 55.5],
  [-11.6, 55.7],
] as const

/** The continental side of the Channel, as far as the shift grid reaches it, by a line through its middle. */
const acrossTheChannel = [
  [-1.6, 49.0],
  [-1.6, 50.15],
  [0.4, 50.4],
  [1.28, 50.8],
  [1.48, 51.0],
  [2.3, 51.6],
  [4.0, 51.9],
  [4.0, 49.0],
] as const

function within(outline: readonly (readonly [number, number])[], lon: number, lat: number): boolean {
  let inside = false
  for (const [k, [x1, y1]] of outline.entries()) {
    const [x2, y2] = outline[(k + 1) % outline.length]!
    if (y1 > lat !== y2 > lat && lon < x1 + ((lat - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside
  }
  return inside
}

/**
 * EPSG code of the grid for a new survey at a place.
 *
 * Rule, first that fits: the island of Ireland: 2157 (ITM). Inside the 700 x 1250 km of the National Grid and on the
 * British side of the Channel: 27700 by OSTN15 (the Isle of Man included, the Channel Islands not). Between 80 S and
 * 84 N: the UTM zone on WGS84. Beyond: the polar grids 5041 and 5042 (UPS, easting first).
 * Faults: RangeError for a latitude or longitude that is none.
 */
export function gridFor(lon: number, lat: number, shift: ShiftGrid): number {
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 360)) throw new RangeError(`no such place: ${lat}, ${lon}`)
  if (within(aroundIreland, lon, lat)) return 2157
  const pair = Float64Array.of(lon, lat)
  toNationalGrid(shift, pair, pair)
  if (!Number.isNaN(pair[0]!) && !within(acrossTheChannel, lon, lat)) return 27_700
  if (lat >= 84) return 5041
  if (lat < -80) return 5042
  return utmEpsg(lon, lat)
}
