import type { LineView, PlaceView } from '#contract'
import { SurveyError } from '#core/faults'
import {
  type Coordinate,
  coordinateNotations,
  geodesicLine,
  gridConvergence,
  gridFor,
  type PlanarGrid,
  parseCoordinate,
  planarBearing,
  planarGrid,
  unprojectPoint,
  wholeCircle,
} from '#core/geodesy'
import { ostn15 } from '#work'
import { magneticNorth } from './magnetic.ts'
import { projected } from './projecting.ts'

/** Corners of the square that a coordinate names, closed, in the survey's grid; null where it names none or one is not reached. */
function squareIn({ square, planar }: Coordinate, grid: PlanarGrid | null): [number, number][] | null {
  if (square === null || planar === null || grid === null) return null
  const { easting: west, northing: south, size } = square
  const [east, north] = [west + size, south + size]
  const corners = Float64Array.of(west, south, east, south, east, north, west, north, west, south)
  const ring =
    planar.epsg === grid.epsg
      ? corners
      : projected(projected(corners, planarGrid(planar.epsg, ostn15()).inverse), grid.forward)
  if (ring.some(Number.isNaN)) return null
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!])
}

/**
 * A place in any notation, told by its middle where it is a square. Plain eastings and northings are taken to be in the survey's grid.
 * Faults: SurveyError 'bad-coordinate', 'outside-grid'.
 */
export function placeOf(text: string, grid: PlanarGrid | null): PlaceView {
  const context = { shift: ostn15(), ...(grid ? { epsg: grid.epsg } : {}) }
  const coordinate = parseCoordinate(text, context)
  const { lat, lon } = coordinate.centre
  const planar = grid && projected(Float64Array.of(lon, lat), grid.forward)
  const reached = planar !== null && !Number.isNaN(planar[0]!)
  const middle = { ...coordinate, lon, lat, planar: coordinate.square === null ? coordinate.planar : null }
  const { gridRef, utm, mgrs, dms, precisionM, accuracyM, warnings } = coordinateNotations(middle, {
    shift: ostn15(),
  })
  return {
    text: text.trim(),
    lat,
    lon,
    easting: reached ? planar[0]! : null,
    northing: reached ? planar[1]! : null,
    square: squareIn(coordinate, grid),
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

/** Length and bearings from one place of the survey's grid to another, magnetic on `day`. Faults: SurveyError('outside-grid'). */
export function lineBetween(from: Place, to: Place, grid: PlanarGrid | null, day: Date): LineView {
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
  const north = magneticNorth(lon1, lat1, day)
  return {
    groundM: distanceM,
    gridM: Math.hypot(to[0] - from[0], to[1] - from[1]),
    gridBearing: same ? null : bearing,
    trueBearing: same ? null : startBearing,
    convergence: gridConvergence(grid, lon1, lat1),
    magnetic: north && !same ? { ...north, bearing: wholeCircle(startBearing - north.declination) } : null,
  }
}
