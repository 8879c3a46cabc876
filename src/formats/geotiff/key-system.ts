/** Keys of a GeoTIFF by their number: codes, figures, words. */
export interface GeoKeyValues {
  readonly codes: ReadonlyMap<number, number>
  readonly numbers: ReadonlyMap<number, readonly number[]>
  readonly words: ReadonlyMap<number, string>
}

/** Datums and ellipsoids by the code of a geographic system, a datum or an ellipsoid (EPSG registry, as in PROJ 9.1.1). */
const datums: Readonly<Record<number, readonly [datum: string, ellipsoid: number]>> = {
  4277: ['OSGB_1936', 7001],
  6277: ['OSGB_1936', 7001],
  4326: ['WGS_1984', 7030],
  6326: ['WGS_1984', 7030],
  4258: ['ETRS_1989', 7019],
  6258: ['ETRS_1989', 7019],
  4269: ['North_American_1983', 7019],
  6269: ['North_American_1983', 7019],
  4299: ['TM65', 7002],
  4300: ['TM75', 7002],
}
const ellipsoids: Readonly<Record<number, readonly [name: string, a: number, inverseFlattening: number]>> = {
  7001: ['Airy 1830', 6_377_563.396, 299.324_964_6],
  7002: ['Airy Modified 1849', 6_377_340.189, 299.324_964_6],
  7019: ['GRS 1980', 6_378_137, 298.257_222_101],
  7030: ['WGS 84', 6_378_137, 298.257_223_563],
}
const [transverseMercator, metre, degree] = [1, 9001, 9102]

/**
 * The well-known text of a transverse Mercator grid that single keys describe, or that has the code of its projection alone, as older programs write them that know no code. Null for any other projection, other
 * units, and where a figure or the ellipsoid is missing: nothing is filled in.
 * Source  OGC GeoTIFF 1.1, 7.4.
 */
export function systemOfKeys({ codes, numbers, words }: GeoKeyValues): string | null {
  const units = codes.get(3076) === metre && (codes.get(2054) ?? degree) === degree
  const coded = codedProjection(codes.get(3074))
  if ((!coded && codes.get(3075) !== transverseMercator) || !units) return null
  const figures: readonly (number | undefined)[] =
    coded ?? [3081, 3080, 3092, 3082, 3083].map((key) => numbers.get(key)?.[0])
  const known = datums[codes.get(2048) ?? 0] ?? datums[codes.get(2050) ?? 0]
  const ellipsoid = ellipsoids[known?.[1] ?? codes.get(2056) ?? 0]
  const a = ellipsoid?.[1] ?? numbers.get(2057)?.[0]
  const inverseFlattening = ellipsoid?.[2] ?? numbers.get(2059)?.[0]
  if (a === undefined || inverseFlattening === undefined || figures.includes(undefined)) return null
  const name = (key: number): string => (words.get(key) ?? '').replace(/["|].*$/s, '')
  const datum = known?.[0] ?? /Datum = ([^|"]+)/.exec(words.get(2049) ?? '')?.[1] ?? 'unknown'
  const shift = numbers.get(2062)
  const toWgs84 = shift && (shift.length === 3 || shift.length === 7) ? `,TOWGS84[${shift.join(',')}]` : ''
  const [latitude, longitude, scale, easting, northing] = figures
  const parameters = [
    ['latitude_of_origin', latitude],
    ['central_meridian', longitude],
    ['scale_factor', scale],
    ['false_easting', easting],
    ['false_northing', northing],
  ].map(([key, value]) => `PARAMETER["${key}",${value}]`)
  const geographic = `GEOGCS["${datum}",DATUM["${datum}",SPHEROID["${ellipsoid?.[0] ?? 'stated'}",${a},${inverseFlattening}]${toWgs84}],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`
  const title = name(3073) || name(1026) || 'grid stated by its keys'
  return `PROJCS["${title}",${geographic},PROJECTION["Transverse_Mercator"],${parameters.join(',')},UNIT["metre",1]]`
}

/** UTM zones by the EPSG code of their projection alone: 16001 to 16060 north, 16101 to 16160 south; and the National Grid's, 19916. */
function codedProjection(code: number | undefined): readonly number[] | null {
  if (code === 19_916) return [49, -2, 0.999_601_271_7, 400_000, -100_000]
  const zone = code === undefined ? 0 : (code - 16_000) % 100
  const south = code !== undefined && code > 16_100
  const isUtm = code !== undefined && code > 16_000 && code <= 16_160 && zone >= 1 && zone <= 60
  return isUtm ? [0, 6 * zone - 183, 0.9996, 500_000, south ? 10_000_000 : 0] : null
}
