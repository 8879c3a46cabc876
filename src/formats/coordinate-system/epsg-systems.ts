import { isPlanarGrid, utmCentralMeridian } from '#core/geodesy'
import { type SourceSystem, sourceSystem } from './source-system.ts'
import type { StatedProjection, StatedSystem } from './stated-system.ts'

type Ellipsoid = StatedSystem['ellipsoid']
/** Name, datum, ellipsoid; then, for a projection, its method and parameters, lengths in metres. */
type Entry = readonly [
  name: string,
  datum: string,
  ellipsoid: Ellipsoid,
  method?: string,
  parameters?: Readonly<Record<string, number>>,
]

const grs80: Ellipsoid = { a: 6_378_137, inverseFlattening: 298.257_222_101 }
const wgs84: Ellipsoid = { a: 6_378_137, inverseFlattening: 298.257_223_563 }
const airy: Ellipsoid = { a: 6_377_563.396, inverseFlattening: 299.324_964_6 }
const airyModified: Ellipsoid = { a: 6_377_340.189, inverseFlattening: 299.324_964_6 }
const international: Ellipsoid = { a: 6_378_388, inverseFlattening: 297 }
const bessel: Ellipsoid = { a: 6_377_397.155, inverseFlattening: 299.152_812_8 }

const lambert = (
  latitude_of_origin: number,
  central_meridian: number,
  standard_parallel_1: number,
  standard_parallel_2: number,
  false_easting: number,
  false_northing: number,
) => ({
  latitude_of_origin,
  central_meridian,
  standard_parallel_1,
  standard_parallel_2,
  false_easting,
  false_northing,
})
const mercator = (
  latitude_of_origin: number,
  central_meridian: number,
  scale_factor: number,
  false_easting: number,
  false_northing: number,
) => ({ latitude_of_origin, central_meridian, scale_factor, false_easting, false_northing })

const tm = 'transverse_mercator'
const irish = mercator(53.5, -8, 1.000_035, 200_000, 250_000)
const swiss = (false_easting: number, false_northing: number) => ({
  latitude_of_center: 46.952_405_555_555_6,
  longitude_of_center: 7.439_583_333_333_33,
  azimuth: 90,
  false_easting,
  false_northing,
})

/** Systems that tables from Britain, Ireland and their neighbours name. Parameters: EPSG registry, as in PROJ 9.1.1. */
const entries: Readonly<Record<number, Entry>> = {
  4258: ['ETRS89', 'etrs_1989', grs80],
  4269: ['NAD83', 'north_american_1983', grs80],
  4326: ['WGS 84', 'wgs_1984', wgs84],
  4979: ['WGS 84', 'wgs_1984', wgs84],
  4277: ['OSGB36', 'osgb_1936', airy],
  4299: ['TM65', 'tm65', airyModified],
  4300: ['TM75', 'tm75', airyModified],
  4230: ['ED50', 'european_1950', international],
  29900: ['TM65 / Irish National Grid', 'tm65', airyModified, tm, irish],
  29902: ['TM65 / Irish Grid', 'tm65', airyModified, tm, irish],
  3857: ['WGS 84 / Pseudo-Mercator', 'wgs_1984', wgs84, 'mercator_auxiliary_sphere', {}],
  3035: [
    'ETRS89-extended / LAEA Europe',
    'etrs_1989',
    grs80,
    'lambert_azimuthal_equal_area',
    { latitude_of_origin: 52, central_meridian: 10, false_easting: 4_321_000, false_northing: 3_210_000 },
  ],
  2154: [
    'RGF93 / Lambert-93',
    'rgf_1993',
    grs80,
    'lambert_conformal_conic',
    lambert(46.5, 3, 49, 44, 7e5, 6.6e6),
  ],
  31370: [
    'Belge 1972 / Belgian Lambert 72',
    'belge_1972',
    international,
    'lambert_conformal_conic',
    lambert(90, 4.367_486_666_666_67, 51.166_667_233_333_3, 49.833_333_9, 150_000.013, 5_400_088.438),
  ],
  28992: [
    'Amersfoort / RD New',
    'amersfoort',
    bessel,
    'double_stereographic',
    mercator(52.156_160_555_555_6, 5.387_638_888_888_89, 0.999_907_9, 155_000, 463_000),
  ],
  2056: ['CH1903+ / LV95', 'ch1903', bessel, 'hotine_oblique_mercator_azimuth_center', swiss(2.6e6, 1.2e6)],
  21781: ['CH1903 / LV03', 'ch1903', bessel, 'hotine_oblique_mercator_azimuth_center', swiss(6e5, 2e5)],
}

/** UTM on ETRS89 (258zz), NAD83 (269zz) and ED50 (230zz), and the German strips of DHDN (31466 to 31469). */
function family(code: number): Entry | null {
  const zone = code % 100
  const utm = () => mercator(0, utmCentralMeridian(zone), 0.9996, 500_000, 0)
  if (code >= 25_828 && code <= 25_838) return [`ETRS89 / UTM zone ${zone}N`, 'etrs_1989', grs80, tm, utm()]
  if (code >= 26_901 && code <= 26_923) return [`NAD83 / UTM zone ${zone}N`, 'nad_1983', grs80, tm, utm()]
  if (code >= 23_028 && code <= 23_038) return [`ED50 / UTM zone ${zone}N`, 'ed50', international, tm, utm()]
  if (code >= 31_466 && code <= 31_469) {
    const strip = code - 31_464
    const name = `DHDN / 3-degree Gauss-Kruger zone ${strip}`
    return [name, 'deutsches_hauptdreiecksnetz', bessel, tm, mercator(0, 3 * strip, 1, strip * 1e6 + 5e5, 0)]
  }
  return null
}

/** What becomes of positions in the system of an EPSG code: the grids of `planarGrid` and some thirty others; null for a code not known. */
export function systemFromEpsg(code: number): SourceSystem | null {
  if (isPlanarGrid(code)) {
    return { name: `EPSG:${code}`, epsg: code, convert: null, degrees: false, note: null }
  }
  const entry = (Object.hasOwn(entries, code) ? entries[code] : null) ?? family(code)
  if (entry === null) return null
  const [name, datum, ellipsoid, method, parameters = {}] = entry
  const projection: StatedProjection | null =
    method === undefined
      ? null
      : { method, parameters: new Map(Object.entries(parameters)), metresPerUnit: 1 }
  const stated: StatedSystem = {
    name: `${name} (EPSG:${code})`,
    datum,
    ellipsoid,
    toWgs84: null,
    meridian: 0,
    degreesPerUnit: 1,
    projection,
  }
  const system = sourceSystem(stated)
  return 'reason' in system ? null : system
}
