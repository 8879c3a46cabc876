import { isSurveyError } from '#core/faults'
import type { CoordinateContext } from './coordinate.ts'
import { gridFor } from './grid-for.ts'
import { formatGridRef, formatIrishGridRef } from './grid-reference.ts'
import { type PlanarGrid, planarGrid, projectPoint } from './planar-grid.ts'

/** A place in one planar grid. */
export interface GridPosition {
  readonly system: string
  readonly epsg: number
  readonly easting: number
  readonly northing: number
  readonly method: string
  /** What the step from WGS84 may be wrong by, metres. */
  readonly expectedErrorM: number
}

/** Rounds metres to a tenth of a millimetre: below what any of the grids is good to. */
function tenthOfMillimetre(metres: number): number {
  return Math.round(metres * 1e4) / 1e4
}

/** A place in one grid, to 0.1 mm; null where the grid does not reach it. */
export function positionIn(grid: PlanarGrid, lon: number, lat: number): GridPosition | null {
  const pair = Float64Array.of(lon, lat)
  grid.forward(pair, pair)
  if (Number.isNaN(pair[0]!)) return null
  return {
    system: grid.name,
    epsg: grid.epsg,
    easting: tenthOfMillimetre(pair[0]!),
    northing: tenthOfMillimetre(pair[1]!),
    method: grid.method,
    expectedErrorM: grid.expectedErrorM,
  }
}

/** Lettered reference by the first National or Irish Grid position among those given; null where there is none. */
export function letteredReference(positions: readonly GridPosition[], digits: number): string | null {
  const position = positions.find(({ epsg }) => epsg === 27_700 || epsg === 29_903)
  if (position === undefined) return null
  const format = position.epsg === 27_700 ? formatGridRef : formatIrishGridRef
  try {
    return format(position.easting, position.northing, digits)
  } catch (error) {
    if (!isSurveyError(error)) throw error
    return null
  }
}

/** A place in the grid that a record of it would use, with its lettered reference where that grid's country has one. */
export interface PlacedPosition extends GridPosition {
  readonly gridRef: string | null
}

/**
 * One place for a table of many: in the grid of `context.epsg`, else in the one that a survey there would get, with a
 * reference of `digits` figures (10: 1 m). In Ireland the reference is that of the Irish Grid, beside ITM figures.
 * Faults: SurveyError('outside-grid') where `context.epsg` does not reach the place; RangeError for no place at all.
 */
export function placeInGrid(
  lon: number,
  lat: number,
  context: CoordinateContext,
  digits = 10,
): PlacedPosition {
  if (context.shift === null) throw new RangeError('placing needs the OSTN15 shift grid')
  const grid = planarGrid(context.epsg ?? gridFor(lon, lat, context.shift), context.shift)
  const [easting, northing] = projectPoint(grid, lon, lat)
  const { name: system, epsg, method, expectedErrorM } = grid
  const position: GridPosition = {
    system,
    epsg,
    easting: tenthOfMillimetre(easting),
    northing: tenthOfMillimetre(northing),
    method,
    expectedErrorM,
  }
  const irish = epsg === 2157 ? positionIn(planarGrid(29_903, null), lon, lat) : null
  return { ...position, gridRef: letteredReference(irish === null ? [position] : [irish], digits) }
}
