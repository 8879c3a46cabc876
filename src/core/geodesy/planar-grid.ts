import { SurveyError } from '#core/faults'
import { grs80, wgs84 } from './ellipsoid.ts'
import { fromIrishGrid, toIrishGrid } from './irish-grid.ts'
import { fromNationalGrid, toNationalGrid } from './national-grid.ts'
import { projectPolar, unprojectPolar } from './polar-stereographic.ts'
import type { ShiftGrid } from './shift-grid.ts'
import {
  projectTransverseMercator,
  type TransverseMercatorParameters,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'
import { utmCentralMeridian } from './utm-zone.ts'

/**
 * A planar grid that a survey can be worked in. `forward` and `inverse` take interleaved pairs (longitude, latitude in
 * degrees on WGS84; easting, northing in metres) and fill `out`, which may be the input. A place outside the grid's
 * reach becomes a NaN pair, never a place found by another method.
 */
export interface PlanarGrid {
  readonly epsg: number
  readonly name: string
  /** How WGS84 becomes this grid, in a few words. */
  readonly method: string
  /** What that step may be wrong by, metres; the receiver's own error is apart. */
  readonly expectedErrorM: number
  forward(lonLat: Float64Array, out: Float64Array): void
  inverse(xy: Float64Array, out: Float64Array): void
}

/** Irish Transverse Mercator, EPSG 2157. Source: OSi and OSNI, A new coordinate system for Ireland (2001). */
const irishTransverseMercator: TransverseMercatorParameters = {
  ellipsoid: grs80,
  originLat: 53.5,
  centralMeridian: -8,
  scale: 0.999_82,
  falseEasting: 600_000,
  falseNorthing: 750_000,
}

function mercatorGrid(epsg: number, name: string, parameters: TransverseMercatorParameters): PlanarGrid {
  const projection = transverseMercator(parameters)
  return {
    epsg,
    name,
    method: 'transverse Mercator (Karney 2011 series)',
    expectedErrorM: 0.001,
    forward: (lonLat, out) => projectTransverseMercator(projection, lonLat, out),
    inverse: (xy, out) => unprojectTransverseMercator(projection, xy, out),
  }
}

function utmGrid(epsg: number): PlanarGrid {
  const south = epsg > 32_700
  const zone = epsg % 100
  return mercatorGrid(epsg, `WGS 84 / UTM zone ${zone}${south ? 'S' : 'N'}`, {
    ellipsoid: wgs84,
    originLat: 0,
    centralMeridian: utmCentralMeridian(zone),
    scale: 0.9996,
    falseEasting: 500_000,
    falseNorthing: south ? 10_000_000 : 0,
  })
}

function nationalGrid(shift: ShiftGrid | null): PlanarGrid {
  if (shift === null) throw new RangeError('EPSG 27700 needs the OSTN15 shift grid')
  return {
    epsg: 27_700,
    name: 'British National Grid',
    method: 'OSTN15',
    expectedErrorM: 0.1,
    forward: (lonLat, out) => toNationalGrid(shift, lonLat, out),
    inverse: (xy, out) => fromNationalGrid(shift, xy, out),
  }
}

const irishGrid: PlanarGrid = {
  epsg: 29_903,
  name: 'Irish Grid',
  method: 'OSi/LPS polynomial',
  expectedErrorM: 0.4,
  forward: toIrishGrid,
  inverse: fromIrishGrid,
}

function polarGrid(epsg: number, pole: 1 | -1): PlanarGrid {
  return {
    epsg,
    name: `WGS 84 / UPS ${pole === 1 ? 'North' : 'South'} (E,N)`,
    method: 'polar stereographic',
    expectedErrorM: 0.001,
    forward: (lonLat, out) => projectPolar(pole, lonLat, out),
    inverse: (xy, out) => unprojectPolar(pole, xy, out),
  }
}

function isUtm(epsg: number): boolean {
  return (epsg > 32_600 && epsg <= 32_660) || (epsg > 32_700 && epsg <= 32_760)
}

/** True where `planarGrid` knows the code: 27700, 2157, 29903, 32601 to 32660, 32701 to 32760, 5041, 5042. */
export function isPlanarGrid(epsg: number): boolean {
  return [27_700, 2157, 29_903, 5041, 5042].includes(epsg) || isUtm(epsg)
}

/**
 * The grid of an EPSG code. Faults: RangeError for a code that `isPlanarGrid` refuses, and for 27700 without its shift
 * grid: British records are never made by the seven-parameter transformation.
 */
export function planarGrid(epsg: number, shift: ShiftGrid | null): PlanarGrid {
  if (epsg === 27_700) return nationalGrid(shift)
  if (epsg === 2157) return mercatorGrid(2157, 'Irish Transverse Mercator', irishTransverseMercator)
  if (epsg === 29_903) return irishGrid
  if (isUtm(epsg)) return utmGrid(epsg)
  if (epsg === 5041) return polarGrid(epsg, 1)
  if (epsg === 5042) return polarGrid(epsg, -1)
  throw new RangeError(`EPSG ${epsg} is not a grid that a survey can be worked in`)
}

/** One place in a grid: easting, northing. Faults: SurveyError('outside-grid'). */
export function projectPoint(
  grid: PlanarGrid,
  lon: number,
  lat: number,
): [easting: number, northing: number] {
  const pair = Float64Array.of(lon, lat)
  grid.forward(pair, pair)
  const [easting, northing] = pair as unknown as [number, number]
  if (Number.isNaN(easting)) {
    throw new SurveyError(
      'outside-grid',
      `Latitude ${lat}, longitude ${lon} lies outside ${grid.name} (EPSG ${grid.epsg}); use another grid there.`,
    )
  }
  return [easting, northing]
}

/** One place of a grid on WGS84: longitude, latitude. Faults: SurveyError('outside-grid'). */
export function unprojectPoint(
  grid: PlanarGrid,
  easting: number,
  northing: number,
): [lon: number, lat: number] {
  const pair = Float64Array.of(easting, northing)
  grid.inverse(pair, pair)
  const [lon, lat] = pair as unknown as [number, number]
  if (Number.isNaN(lon)) {
    throw new SurveyError(
      'outside-grid',
      `Easting ${easting}, northing ${northing} lies outside ${grid.name} (EPSG ${grid.epsg}); check the figures.`,
    )
  }
  return [lon, lat]
}
