const narrow = '\u202f'

/** A planar coordinate with its thousands apart: 571 204 or, with digits, 571 204.3. In metres. */
export function gridNumber(metres: number, digits = 0): string {
  const [whole = '', part] = Math.abs(metres).toFixed(digits).split('.')
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, narrow)
  return `${metres < 0 ? '−' : ''}${grouped}${part ? `.${part}` : ''}`
}

/** Plain easting and northing, as they are copied: `571204.3 345678.0`. */
export function plainPair(easting: number, northing: number, digits = 1): string {
  return `${easting.toFixed(digits)} ${northing.toFixed(digits)}`
}

/** Latitude and longitude on WGS84 in degrees, five decimals (about a metre): `52.93012 N, 0.35120 E`. */
export function latLonText(lat: number, lon: number): string {
  return `${Math.abs(lat).toFixed(5)} ${lat < 0 ? 'S' : 'N'}, ${Math.abs(lon).toFixed(5)} ${lon < 0 ? 'W' : 'E'}`
}

/** A bearing in degrees, three figures before the point as on a compass: `048.3°`; never 360. */
export function bearingText(degrees: number): string {
  const tenths = Math.round(degrees * 10) % 3600
  return `${(((tenths + 3600) % 3600) / 10).toFixed(1).padStart(5, '0')}°`
}

/** The convergence in a sentence. Degrees of grid north from true north, positive east. */
export function convergenceText(degrees: number): string {
  const size = Math.abs(degrees).toFixed(2)
  if (size === '0.00') return 'Grid north and true north are the same here.'
  return `Grid north lies ${size}° ${degrees < 0 ? 'west' : 'east'} of true north here.`
}
