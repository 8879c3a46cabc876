import type { StatedProjection } from './stated-system.ts'

/** The words that tell proj4 of a projection, or null for one that is not read. */
type Words = (at: At) => string | null
/** The first of the named parameters that is stated; what is none counts as `otherwise`. */
type At = (otherwise: number, ...names: readonly string[]) => number

const originLat = ['latitude_of_origin', 'latitude_of_center', 'central_parallel']
const originLon = ['central_meridian', 'longitude_of_center', 'longitude_of_origin', 'central_longitude']
const parallel = 'standard_parallel_1'

const origin = (at: At): string => `+lat_0=${at(0, ...originLat)} +lon_0=${at(0, ...originLon)}`
const scaled = (at: At): string => `${origin(at)} +k_0=${at(1, 'scale_factor')}`

function lambertConformal(at: At): string {
  const first = at(at(0, ...originLat), parallel)
  return `+proj=lcc ${scaled(at)} +lat_1=${first} +lat_2=${at(first, 'standard_parallel_2')}`
}

/** Polar cases come in two forms: a scale at the pole, or a parallel that is true to scale. */
function polar(at: At, pole: number): string {
  const latitude = at(at(pole, ...originLat), parallel)
  const lon = `+lat_0=${Math.sign(latitude || pole) * 90} +lon_0=${at(0, ...originLon)}`
  return Math.abs(latitude) === 90
    ? `+proj=stere ${lon} +k_0=${at(1, 'scale_factor')}`
    : `+proj=stere ${lon} +lat_ts=${latitude}`
}

/** An azimuth of 90 degrees is the Swiss case, which has formulas of its own. */
function oblique(at: At): string {
  const azimuth = at(Number.NaN, 'azimuth')
  if (azimuth === 90) return `+proj=somerc ${scaled(at)}`
  const turned = at(azimuth, 'rectified_grid_angle', 'xy_plane_rotation')
  const lines = `+lonc=${at(0, ...originLon)} +alpha=${azimuth} +gamma=${turned} +k_0=${at(1, 'scale_factor')}`
  return `+proj=omerc +lat_0=${at(0, ...originLat)} ${lines}`
}

const transverse: Words = (at) => `+proj=tmerc ${scaled(at)}`
const mercator: Words = (at) =>
  `+proj=merc +lon_0=${at(0, ...originLon)} +k_0=${at(1, 'scale_factor')} +lat_ts=${at(0, parallel)}`
const albers: Words = (at) =>
  `+proj=aea ${origin(at)} +lat_1=${at(0, parallel)} +lat_2=${at(0, 'standard_parallel_2')}`

/** By the plain name of the method in ESRI and OGC text. Each is held to PROJ by a test. */
const methods: Readonly<Record<string, Words>> = {
  transverse_mercator: transverse,
  transverse_mercator_complex: transverse,
  gauss_kruger: transverse,
  lambert_conformal_conic: lambertConformal,
  lambert_conformal_conic_1sp: lambertConformal,
  lambert_conformal_conic_2sp: lambertConformal,
  lambert_azimuthal_equal_area: (at) => `+proj=laea ${origin(at)}`,
  albers: albers,
  albers_conic_equal_area: albers,
  mercator: mercator,
  mercator_1sp: mercator,
  mercator_2sp: mercator,
  mercator_auxiliary_sphere: (at) =>
    at(0, 'auxiliary_sphere_type') === 0 ? `+proj=merc +lon_0=${at(0, ...originLon)} +R=6378137` : null,
  double_stereographic: (at) => `+proj=sterea ${scaled(at)}`,
  oblique_stereographic: (at) => `+proj=sterea ${scaled(at)}`,
  polar_stereographic: (at) => polar(at, 90),
  stereographic_north_pole: (at) => polar(at, 90),
  stereographic_south_pole: (at) => polar(at, -90),
  hotine_oblique_mercator_azimuth_center: oblique,
  rectified_skew_orthomorphic_center: oblique,
  cassini: (at) => `+proj=cass ${origin(at)}`,
  cassini_soldner: (at) => `+proj=cass ${origin(at)}`,
  new_zealand_map_grid: (at) => `+proj=nzmg ${origin(at)}`,
}

/** How proj4 is told of a projection, without ellipsoid and datum; null for a method that is not read. Lengths in metres. */
export function projectionWords({ method, parameters, metresPerUnit }: StatedProjection): string | null {
  const at: At = (otherwise, ...names) => {
    const name = names.find((candidate) => parameters.has(candidate))
    return name === undefined ? otherwise : parameters.get(name)!
  }
  const words = Object.hasOwn(methods, method) ? methods[method]!(at) : null
  if (words === null || words.includes('NaN')) return null
  const [east, north] = ['false_easting', 'false_northing'].map((name) => at(0, name) * metresPerUnit)
  return `${words} +x_0=${east} +y_0=${north} +to_meter=${metresPerUnit}`
}
