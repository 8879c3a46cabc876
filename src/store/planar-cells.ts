import { numberAt, textAt } from './cells.ts'
import type { Cell, Row } from './connection.ts'
import type { PlanarPosition } from './survey-file.ts'

/** The planar position that a row holds beside its point; null where any part of it is missing. */
export function planarAt(row: Row): PlanarPosition | null {
  const epsg = numberAt(row, 'grid_epsg')
  const easting = numberAt(row, 'easting')
  const northing = numberAt(row, 'northing')
  if (epsg === null || easting === null || northing === null) return null
  return { epsg, easting, northing, method: textAt(row, 'grid_method') ?? 'not stated' }
}

export function planarCells(planar: PlanarPosition | null): Record<string, Cell> {
  return {
    easting: planar?.easting ?? null,
    northing: planar?.northing ?? null,
    grid_epsg: planar?.epsg ?? null,
    grid_method: planar?.method ?? null,
  }
}
