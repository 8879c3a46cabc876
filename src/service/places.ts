import type { LineView, PlaceView } from '#contract'
import { SurveyError } from '#core/faults'
import {
  coordinateNotations,
  geodesicLine,
  gridConvergence,
  gridFor,
  type PlanarGrid,
  parseCoordinate,
  planarBearing,
  unprojectPoint,
} from '#core/geodesy'
import { ostn15 } from '#work'
import { projected } from './projecting.ts'

/**
 * A place in any notation. Plain eastings and northings are taken to be in the survey's grid.
 * Faults: SurveyError 'bad-coordinate', 'outside-grid'.
 */
export function placeOf(text: string, grid: PlanarGrid | null): PlaceView {
  const context = { shift: ostn15(), ...(grid ? { epsg: grid.epsg } : {}) }
  const coordinate = parseCoordinate(text, context)
  const { lat, lon } = coordinate.centre
  const planar = grid && projected(Float64Array.of(lon, lat), grid.forward)
  const reached = planar !== null && !Number.isNaN(planar[0]!)
  const { gridRef, utm, mgrs, dms, precisionM, accuracyM, warnings } = coordinateNotations(coordinate, {
    shift: ostn15(),
  })
  return {
    text: text.trim(),
    lat,
    lon,
    easting: reached ? planar[0]! : null,
    northing: reached ? planar[1]! : null,
    gridRef,
    utm,
    mgrs,
    dms,
    precisionM,
    accuracyM,
    usualEpsg: gridFor(lon, lat, ostn15()),
    warnings: [...warnings],
  }
}

type Place = readonly [easting: number, northing: number]

/** Length and bearings from one place of the survey's grid to another. Faults: SurveyError('outside-grid'). */
export function lineBetween(from: Place, to: Place, grid: PlanarGrid | null): LineView {
  if (grid === null)
    throw new SurveyError(
      'outside-grid',
      'The survey has no grid yet: bring in a file or go to a place first.',
    )
  const [lon1, lat1] = unprojectPoint(grid, ...from)
  const [lon2, lat2] = unprojectPoint(grid, ...to)
  const { distanceM, startBearing } = geodesicLine(lon1, lat1, lon2, lat2)
  const bearing = planarBearing(...from, ...to)
  const same = Number.isNaN(bearing)
  return {
    groundM: distanceM,
    gridM: Math.hypot(to[0] - from[0], to[1] - from[1]),
    gridBearing: same ? null : bearing,
    trueBearing: same ? null : startBearing,
    convergence: gridConvergence(grid, lon1, lat1),
  }
}
