import { crc32 } from 'node:zlib'
import { bytesOf, float64At, numberAt } from './cells.ts'
import type { Cell, Row } from './connection.ts'

/**
 * Planar pairs kept beside a geometry in WGS84, vertex for vertex, with a check of the WGS84 pairs that they belong to.
 * Where another program has since changed the geometry, the check no longer fits and the pairs are not given out.
 */
export function givenCells(
  given: { readonly epsg: number; readonly xy: Float64Array } | null,
  lonLat: Float64Array,
): Record<'given_epsg' | 'given_check' | 'given_xy', Cell> {
  if (given === null) return { given_epsg: null, given_check: null, given_xy: null }
  if (given.xy.length !== lonLat.length) {
    throw new RangeError(`${given.xy.length / 2} planar pairs beside ${lonLat.length / 2} positions`)
  }
  return { given_epsg: given.epsg, given_check: crc32(bytesOf(lonLat)), given_xy: bytesOf(given.xy) }
}

export function givenAt(row: Row, lonLat: Float64Array): { epsg: number; xy: Float64Array } | null {
  const epsg = numberAt(row, 'given_epsg')
  const xy = float64At(row, 'given_xy')
  if (epsg === null || xy === null || xy.length !== lonLat.length) return null
  return numberAt(row, 'given_check') === crc32(bytesOf(lonLat)) ? { epsg, xy } : null
}
