import { SurveyError } from '#core/faults'
import { gridConvergence } from './convergence.ts'
import type { Coordinate, CoordinateContext, CoordinateNotation } from './coordinate.ts'
import { gridFor } from './grid-for.ts'
import { type GridPosition, letteredReference, positionIn } from './grid-position.ts'
import { formatLatLon } from './latitude-longitude.ts'
import { formatMgrs } from './mgrs.ts'
import { planarGrid } from './planar-grid.ts'
import { figuresFor } from './square-figures.ts'
import { utmEpsg } from './utm-zone.ts'

/** One place in all notations: what `lynchet coords --json` prints. */
export interface CoordinateNotations {
  readonly notation: CoordinateNotation
  readonly wgs84: { readonly lat: number; readonly lon: number }
  readonly dms: string
  /** The grid of the text where it names one, else the grid that a survey there would get. */
  readonly grid: GridPosition
  /** Lettered reference in the National or the Irish Grid: as large a square as the text names, else 1 m; null elsewhere. */
  readonly gridRef: string | null
  readonly utm: string
  readonly mgrs: string
  /** The place in every grid that is used there, that of `grid` first. */
  readonly grids: readonly GridPosition[]
  readonly precisionM: number
  readonly accuracyM: number
  /** The error to expect of the step between WGS84 and `grid`, metres, beside what the text leaves open. */
  readonly expectedErrorM: number
  /** Where the text names a square: its grid, south-west corner and side. */
  readonly square: {
    readonly epsg: number
    readonly easting: number
    readonly northing: number
    readonly sizeM: number
  } | null
  /** The middle of that square; the place itself where there is none. */
  readonly centre: { readonly lat: number; readonly lon: number }
  /** Bearing of grid north from true north, degrees, positive east; in the grid of `grid`. */
  readonly convergenceDeg: number
  readonly warnings: readonly string[]
  /** What holds of all figures here: `frameNote` in Britain and Ireland, else null. */
  readonly note: string | null
}

/** Said with results in Britain and Ireland, since no figure shows it. Figure from memory: 25 mm a year since 1989. */
export const frameNote =
  'WGS84 is taken as ETRS89; receivers now work in a frame that has moved from it by about 0.9 m in the British Isles.'

/** UTM, or UPS near the poles, as text: zone and hemisphere, easting, northing, with the decimals that a precision warrants. */
export function formatUtm(lon: number, lat: number, precisionM: number): string {
  const decimals = Math.min(Math.max(-Math.round(Math.log10(precisionM)), 0), 3)
  const pole = lat >= 84 ? 'N' : lat < -80 ? 'S' : null
  const epsg = worldGrid(lon, lat)
  const pair = Float64Array.of(lon, lat)
  planarGrid(epsg, null).forward(pair, pair)
  const name = pole === null ? `${epsg % 100}${lat < 0 ? 'S' : 'N'}` : `UPS ${pole}`
  return `${name} ${pair[0]!.toFixed(decimals)} ${pair[1]!.toFixed(decimals)}`
}

/** EPSG code of the worldwide grid of a place: UTM, or UPS beyond 84 N and 80 S. */
function worldGrid(lon: number, lat: number): number {
  return lat >= 84 ? 5041 : lat < -80 ? 5042 : utmEpsg(lon, lat)
}

/** Codes of the grids that a place may be told in: the one wanted first, then its country's, then the world's. */
function codesAt(coordinate: Coordinate, context: CoordinateContext): number[] {
  const { lon, lat, notation, planar } = coordinate
  const usual = context.shift === null ? worldGrid(lon, lat) : gridFor(lon, lat, context.shift)
  const named = planar !== null && notation !== 'mgrs' && notation !== 'utm' ? planar.epsg : null
  const country = usual === 2157 ? [2157, 29_903] : [usual]
  return [...new Set([named ?? context.epsg ?? usual, ...country, worldGrid(lon, lat)])]
}

/** A sentence where angles are so roughly given that metres would pretend to more than is known. */
function vagueness({ square, precisionM }: Coordinate): string[] {
  if (square !== null || precisionM < 10) return []
  const size = precisionM < 1000 ? `${Math.round(precisionM)} m` : `${Math.round(precisionM / 1000)} km`
  return [`The text gives the place to about ${size} only; finer figures follow from it but are not known.`]
}

/**
 * A place in all notations, each with its method and the error to expect of it.
 *
 * The figures are those of the text: a square's are its south-west corner, as references are read, with `square` and
 * `centre` beside them. Metres are given to 0.1 mm and degrees to 1e-10, whatever the text allows; `precisionM` and
 * `accuracyM` say what it allows.
 * Faults: SurveyError('outside-grid') where the grid asked for in `context.epsg` does not reach the place.
 */
export function coordinateNotations(coordinate: Coordinate, context: CoordinateContext): CoordinateNotations {
  const { lon, lat, planar, square, precisionM } = coordinate
  const codes = codesAt(coordinate, context)
  const grids = codes
    .map((epsg) => positionIn(planarGrid(epsg, context.shift), lon, lat))
    .filter((position) => position !== null)
    .map((position) => (position.epsg === planar?.epsg ? { ...position, ...planar } : position))
  const [grid] = grids
  if (grid === undefined || grid.epsg !== codes[0]) {
    throw new SurveyError(
      'outside-grid',
      `Latitude ${lat}, longitude ${lon} lies outside the grid EPSG ${codes[0]}.`,
    )
  }
  const digits = square === null ? 10 : figuresFor(precisionM)
  const lettered = coordinate.notation.endsWith('grid-reference') ? coordinate.reference : null
  return {
    notation: coordinate.notation,
    wgs84: { lat: Number(lat.toFixed(10)), lon: Number(lon.toFixed(10)) },
    dms: formatLatLon(lat, lon, Math.min(Math.max(Math.ceil(Math.log10(31 / precisionM)), 0), 5)),
    grid,
    gridRef: lettered ?? letteredReference(grids, digits),
    utm: formatUtm(lon, lat, precisionM),
    mgrs: coordinate.notation === 'mgrs' ? coordinate.reference! : formatMgrs(lon, lat, digits),
    grids,
    precisionM: Number(precisionM.toPrecision(3)),
    accuracyM: Number(coordinate.accuracyM.toPrecision(3)),
    expectedErrorM: grid.expectedErrorM,
    square:
      square === null || planar === null
        ? null
        : { epsg: planar.epsg, easting: square.easting, northing: square.northing, sizeM: square.size },
    centre: {
      lat: Number(coordinate.centre.lat.toFixed(10)),
      lon: Number(coordinate.centre.lon.toFixed(10)),
    },
    convergenceDeg: Number(gridConvergence(planarGrid(grid.epsg, context.shift), lon, lat).toFixed(7)),
    warnings: [...coordinate.warnings, ...vagueness(coordinate)],
    note: grids.some(({ epsg }) => [27_700, 2157, 29_903].includes(epsg)) ? frameNote : null,
  }
}
