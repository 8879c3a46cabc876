/**
 * UTM zone (1 to 60) of a place, with the widened zones of south-west Norway and Svalbard.
 * Longitude is taken modulo 360; 180 east belongs to zone 1. Source: NGA.SIG.0012 (2014), section 3.
 */
export function utmZone(lon: number, lat: number): number {
  const turned = lon - 360 * Math.floor((lon + 180) / 360)
  // Rounding of a longitude a hair from 180 may fall to either side of it.
  const plain = Math.min(Math.max(Math.floor((turned + 180) / 6) + 1, 1), 60)
  if (lat >= 56 && lat < 64 && plain === 31 && turned >= 3) return 32
  if (lat >= 72 && lat < 84 && turned >= 0 && turned < 42) {
    return turned < 9 ? 31 : turned < 21 ? 33 : turned < 33 ? 35 : 37
  }
  return plain
}

/** Longitude of a zone's central meridian, degrees. */
export function utmCentralMeridian(zone: number): number {
  return 6 * zone - 183
}

/** EPSG code of UTM on WGS84 for a place: 326zz north of the equator and on it, 327zz south. */
export function utmEpsg(lon: number, lat: number): number {
  return (lat < 0 ? 32_700 : 32_600) + utmZone(lon, lat)
}
