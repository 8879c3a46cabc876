import { childOf, nameOf, numberAt, type WktNode, wktTree } from './wkt-tree.ts'

/** A map projection as stated. */
export interface StatedProjection {
  /** As `plainName` gives it. */
  readonly method: string
  /** By plain name: angles in degrees, lengths in `metresPerUnit`. */
  readonly parameters: ReadonlyMap<string, number>
  readonly metresPerUnit: number
}

/** What a definition states of a coordinate system, nothing added. */
export interface StatedSystem {
  /** For sentences. */
  readonly name: string
  /** As `plainName` gives it. */
  readonly datum: string
  readonly ellipsoid: { readonly a: number; readonly inverseFlattening: number }
  /** Three or seven parameters to WGS84 (metres, seconds of arc, parts in a million; position vector), where stated. */
  readonly toWgs84: readonly number[] | null
  /** Longitude of the prime meridian east of Greenwich, degrees. */
  readonly meridian: number
  readonly degreesPerUnit: number
  /** Null for longitude and latitude. */
  readonly projection: StatedProjection | null
}

/** Why a definition cannot be used, as the end of a sentence that begins with what states it. */
export interface UnknownSystem {
  readonly reason: string
}

/** A name without what programs write differently: `D_OSGB_1936`, `OSGB 1936` and `osgb_1936` are one. */
function plainName(name: string): string {
  return name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^d_|^_|_$/g, '')
}

/** `EPSG` codes that a root may carry, as `AUTHORITY["EPSG","27700"]` or `ID["EPSG",27700]`; null where it carries none. */
export function authorityCode(text: string): number | null {
  const bare = /^\s*EPSG:(\d{4,6})\s*$/i.exec(text)?.[1]
  if (bare !== undefined) return Number(bare)
  const root = wktTree(text)
  const authority = root && childOf(root, 'AUTHORITY', 'ID')
  if (!authority || nameOf(authority).toUpperCase() !== 'EPSG') return null
  const code = Number(authority.values[1])
  return Number.isInteger(code) ? code : null
}

/** Reads WKT 1 as ESRI and OGC write it: GEOGCS, PROJCS, and the horizontal part of a COMPD_CS. */
export function statedSystem(text: string): StatedSystem | UnknownSystem {
  const root = wktTree(text)
  if (root === null) return { reason: 'is no well-known text of a coordinate system' }
  const top = root.keyword === 'COMPD_CS' ? childOf(root, 'PROJCS', 'GEOGCS') : root
  if (top === null || (top.keyword !== 'PROJCS' && top.keyword !== 'GEOGCS')) {
    return { reason: `states a system of the kind ${root.keyword.slice(0, 20)}, which is not read` }
  }
  const geographic = top.keyword === 'GEOGCS' ? top : childOf(top, 'GEOGCS')
  const datum = geographic && childOf(geographic, 'DATUM')
  const spheroid = datum && childOf(datum, 'SPHEROID', 'ELLIPSOID')
  const a = numberAt(spheroid, 1)
  const inverseFlattening = numberAt(spheroid, 2)
  if (!geographic || !(a > 6e6 && a < 7e6) || !(inverseFlattening === 0 || inverseFlattening > 100)) {
    return { reason: 'states no usable ellipsoid' }
  }
  const projection = top === geographic ? null : projectionOf(top)
  if (projection !== null && 'reason' in projection) return projection
  const degreesPerUnit = degreesOf(geographic)
  if (!(degreesPerUnit > 0)) return { reason: 'states no usable unit of angle' }
  if (projection !== null && Math.abs(degreesPerUnit - 1) > 1e-9) {
    return { reason: 'states a projection in an angle other than the degree, which is not read' }
  }
  const meridian = numberAt(childOf(geographic, 'PRIMEM'), 1)
  return {
    name: nameOf(top).slice(0, 60) || 'without a name',
    datum: plainName(nameOf(datum)),
    ellipsoid: { a, inverseFlattening },
    toWgs84: shiftOf(datum),
    meridian: Number.isNaN(meridian) ? 0 : meridian * degreesPerUnit,
    degreesPerUnit,
    projection,
  }
}

function projectionOf(node: WktNode): StatedProjection | UnknownSystem {
  const metresPerUnit = numberAt(childOf(node, 'UNIT'), 1)
  if (!(metresPerUnit > 1e-4 && metresPerUnit < 1e6)) return { reason: 'states no usable unit of length' }
  const parameters = new Map<string, number>()
  for (const value of node.values) {
    if (typeof value !== 'object' || value.keyword !== 'PARAMETER') continue
    const number = numberAt(value, 1)
    if (!(Math.abs(number) < 1e12)) return { reason: 'states a parameter that is no number' }
    parameters.set(plainName(nameOf(value)), number)
  }
  // GDAL writes the projection on a sphere that web maps use as an ordinary Mercator with this line beside it.
  const proj4 = childOf(node, 'EXTENSION')?.values.join(' ') ?? ''
  const sphere = /\+proj=merc\b.*\+b=6378137\b/.test(proj4)
  const method = sphere ? 'mercator_auxiliary_sphere' : plainName(nameOf(childOf(node, 'PROJECTION')))
  return { method, parameters, metresPerUnit }
}

function degreesOf(geographic: WktNode): number {
  const radians = numberAt(childOf(geographic, 'UNIT'), 1)
  const degrees = (radians * 180) / Math.PI
  // Definitions give the degree to 10 to 17 digits.
  return Math.abs(degrees - 1) < 1e-9 ? 1 : degrees
}

function shiftOf(datum: WktNode | null): readonly number[] | null {
  const shift = (datum && childOf(datum, 'TOWGS84'))?.values ?? []
  const numbers = shift.filter((value) => typeof value === 'number' && Math.abs(value) < 1e4) as number[]
  return numbers.length === 3 || numbers.length === 7 ? numbers : null
}
