import { SurveyError } from '#core/faults'
import { type PlanarGrid, unprojectPoint } from './planar-grid.ts'
import type { ShiftGrid } from './shift-grid.ts'
import { badCoordinate, type GridSquare, squareCentre } from './square-figures.ts'

/** What reading a coordinate needs besides the text. */
export interface CoordinateContext {
  /** OSTN15; reading a British position without it is a wrong call. */
  readonly shift: ShiftGrid | null
  /** Grid that plain eastings and northings are in; 27700, with a warning, where left out. */
  readonly epsg?: number
}

export type CoordinateNotation =
  | 'latitude-longitude'
  | 'national-grid-reference'
  | 'irish-grid-reference'
  | 'mgrs'
  | 'utm'
  | 'easting-northing'

/**
 * A place as someone wrote it. Where the text names a square, `lon`, `lat` and `planar` are its south-west corner, just as
 * written, and `centre` is its middle: the best single position for a find known only to lie in it.
 */
export interface Coordinate {
  readonly notation: CoordinateNotation
  /** Degrees on WGS84. */
  readonly lon: number
  readonly lat: number
  readonly centre: { readonly lon: number; readonly lat: number }
  /** The planar grid of the notation, and the place in it, metres; null for latitude and longitude. */
  readonly planar: { readonly epsg: number; readonly easting: number; readonly northing: number } | null
  /** The square that a reference names, in the grid of `planar`; null for points. */
  readonly square: GridSquare | null
  /** The reference in its usual spelling; null for other notations. */
  readonly reference: string | null
  /** What one step of the last figure is worth on the ground, metres: the side of the square for references. */
  readonly precisionM: number
  /** Radius around `centre` that the text leaves open, metres: half the diagonal of the square or of the last figures' cell. */
  readonly accuracyM: number
  /** What the reader should know of how the text was understood: one sentence each. */
  readonly warnings: readonly string[]
}

const halfDiagonal = Math.SQRT1_2
/** Mean length of a degree of a great circle, metres. */
const metresPerDegree = 111_195

/** A coordinate from a square of a grid. Faults: SurveyError('outside-grid') where its middle lies outside the grid. */
export function squareCoordinate(
  notation: CoordinateNotation,
  grid: PlanarGrid,
  square: GridSquare,
  reference: string,
): Coordinate {
  const corner = Float64Array.of(square.easting, square.northing)
  const centre = Float64Array.from(squareCentre(square))
  grid.inverse(corner, corner)
  grid.inverse(centre, centre)
  const [centreLon, centreLat] = centre as unknown as [number, number]
  if (Number.isNaN(centreLon)) {
    throw new SurveyError(
      'outside-grid',
      `The square ${reference} lies outside the reach of ${grid.name} by ${grid.method}; check its letters.`,
    )
  }
  const cornerOutside = Number.isNaN(corner[0]!)
  return {
    notation,
    lon: cornerOutside ? centreLon : corner[0]!,
    lat: cornerOutside ? centreLat : corner[1]!,
    centre: { lon: centreLon, lat: centreLat },
    planar: { epsg: grid.epsg, easting: square.easting, northing: square.northing },
    square,
    reference,
    precisionM: square.size,
    accuracyM: square.size * halfDiagonal,
    warnings: cornerOutside
      ? [
          `The square's south-west corner lies outside ${grid.name}; latitude and longitude are those of its middle.`,
        ]
      : [],
  }
}

/** A coordinate from metres in a grid. Faults: SurveyError('outside-grid'). */
export function planarCoordinate(
  notation: CoordinateNotation,
  grid: PlanarGrid,
  reading: { readonly easting: number; readonly northing: number; readonly step: number },
  warnings: readonly string[],
): Coordinate {
  const { easting, northing, step } = reading
  const [lon, lat] = unprojectPoint(grid, easting, northing)
  return {
    notation,
    lon,
    lat,
    centre: { lon, lat },
    planar: { epsg: grid.epsg, easting, northing },
    square: null,
    reference: null,
    precisionM: step,
    accuracyM: step * halfDiagonal,
    warnings,
  }
}

/**
 * A coordinate from latitude and longitude, degrees on WGS84, with the step of the last figure of each in degrees.
 * Faults: SurveyError('bad-coordinate') where there is no such place.
 */
export function angularCoordinate(
  lon: number,
  lat: number,
  steps: { readonly lonStep: number; readonly latStep: number },
  warnings: readonly string[],
): Coordinate {
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 180)) {
    throw badCoordinate(`There is no place at latitude ${lat}, longitude ${lon}.`)
  }
  const east = steps.lonStep * metresPerDegree * Math.cos((lat * Math.PI) / 180)
  const north = steps.latStep * metresPerDegree
  return {
    notation: 'latitude-longitude',
    lon,
    lat,
    centre: { lon, lat },
    planar: null,
    square: null,
    reference: null,
    precisionM: Math.max(east, north),
    accuracyM: Math.sqrt(east * east + north * north) / 2,
    warnings,
  }
}

/** A coordinate from a place on WGS84 known to about `precisionM` metres each way: the pointer's, say, or a receiver's. */
export function coordinateAt(lon: number, lat: number, precisionM: number): Coordinate {
  const latStep = precisionM / metresPerDegree
  const lonStep = latStep / Math.max(Math.cos((lat * Math.PI) / 180), 1e-9)
  return { ...angularCoordinate(lon, lat, { latStep, lonStep }, []), precisionM }
}
