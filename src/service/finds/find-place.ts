import type { FindPlace } from '#contract'
import { SurveyError } from '#core/faults'
import { type PlanarGrid, planarGrid, unprojectPoint } from '#core/geodesy'
import type { FoundAt, PlacedFindspot, PlanarPosition } from '#store'
import { ostn15 } from '#work'
import { placeOf } from '../places.ts'
import { projected } from '../projecting.ts'

interface Position {
  readonly lon: number
  readonly lat: number
  readonly planar: PlanarPosition | null
  /** What the notation leaves open, metres; null for a place pointed at. */
  readonly accuracyM: number | null
}

function typed(text: string, grid: PlanarGrid | null): Position {
  const { lon, lat, easting, northing, accuracyM, usualEpsg } = placeOf(text, grid)
  if (grid !== null) {
    if (easting === null || northing === null) {
      throw new SurveyError(
        'outside-grid',
        `${text} lies outside ${grid.name}, in which this survey is worked.`,
      )
    }
    return { lon, lat, accuracyM, planar: { epsg: grid.epsg, easting, northing, method: grid.method } }
  }
  const usual = planarGrid(usualEpsg, ostn15())
  const [east, north] = projected(Float64Array.of(lon, lat), usual.forward)
  const reached = !Number.isNaN(east)
  return {
    lon,
    lat,
    accuracyM,
    planar: reached ? { epsg: usualEpsg, easting: east!, northing: north!, method: usual.method } : null,
  }
}

function pointed(easting: number, northing: number, grid: PlanarGrid | null): Position {
  if (grid === null) {
    throw new SurveyError(
      'outside-grid',
      'The survey has no grid yet: write the place as a grid reference or as latitude and longitude.',
    )
  }
  const [lon, lat] = unprojectPoint(grid, easting, northing)
  return { lon, lat, accuracyM: null, planar: { epsg: grid.epsg, easting, northing, method: 'as given' } }
}

/**
 * A place as it came from a page, ready to be stored. What it leaves out is taken from where the find was before.
 * Faults: SurveyError 'bad-coordinate', 'outside-grid'.
 */
export function placedFindspot(
  place: FindPlace,
  grid: PlanarGrid | null,
  before: FoundAt | null,
): PlacedFindspot {
  const { lon, lat, planar, accuracyM } =
    'text' in place ? typed(place.text, grid) : pointed(place.easting, place.northing, grid)
  return {
    planar,
    recorded: {
      epsg: 4326,
      name: before?.name ?? null,
      x: lon,
      y: lat,
      accuracyM: place.accuracyM === undefined ? accuracyM : place.accuracyM,
      elevation: null,
      time:
        place.foundAt === undefined
          ? (before?.time ?? null)
          : place.foundAt === null
            ? null
            : Date.parse(place.foundAt) / 1000,
      note: place.note === undefined ? (before?.note ?? null) : place.note,
      find: null,
      attributes: {},
    },
  }
}
