const degree = Math.PI / 180
const equator = 6_378_137
const eccentricitySquared = 0.006_694_379_990_14

interface LatLon {
  readonly lat: number
  readonly lon: number
}

/**
 * Length of one step of a walk, metres, along the ellipsoid of WGS84.
 *
 * Method  radii of curvature of the meridian and the prime vertical at the middle latitude (Rapp 1991, Geometric geodesy part I,
 *         ch. 3); against the geodesic right to 0.01 % for steps up to ten kilometres between 75 S and 75 N.
 */
export function stepLength(a: LatLon, b: LatLon): number {
  const middle = ((a.lat + b.lat) / 2) * degree
  const w = 1 - eccentricitySquared * Math.sin(middle) ** 2
  const meridian = (equator * (1 - eccentricitySquared)) / w ** 1.5
  const primeVertical = equator / Math.sqrt(w)
  const turn = ((((b.lon - a.lon) % 360) + 540) % 360) - 180
  return Math.hypot((b.lat - a.lat) * degree * meridian, turn * degree * primeVertical * Math.cos(middle))
}
