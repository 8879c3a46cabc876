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
