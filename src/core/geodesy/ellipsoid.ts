/** A biaxial figure of the earth: equatorial radius in metres and flattening. */
export interface Ellipsoid {
  readonly name: string
  readonly a: number
  readonly f: number
}

/** World Geodetic System 1984. */
export const wgs84: Ellipsoid = { name: 'WGS 84', a: 6_378_137, f: 1 / 298.257_223_563 }

/** Geodetic Reference System 1980, the figure of ETRS89. It differs from WGS 84 by 0.1 mm in the polar radius. */
export const grs80: Ellipsoid = { name: 'GRS 1980', a: 6_378_137, f: 1 / 298.257_222_101 }

/** Airy 1830, the figure of OSGB36. Source: Ordnance Survey, A guide to coordinate systems in Great Britain, annex A. */
export const airy1830: Ellipsoid = {
  name: 'Airy 1830',
  a: 6_377_563.396,
  f: (6_377_563.396 - 6_356_256.909) / 6_377_563.396,
}

/** Airy modified 1849, the figure of the Irish datums of 1965 and 1975 (EPSG 7002). */
export const airyModified1849: Ellipsoid = {
  name: 'Airy modified 1849',
  a: 6_377_340.189,
  f: 1 / 299.324_964_6,
}
