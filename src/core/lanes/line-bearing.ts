/**
 * The bearing that a drawn line keeps to, degrees from grid north, 0 up to 180: a plough line, or a contour. Longer legs count for more,
 * and the sense in which it was drawn does not matter.
 *
 * Shape   interleaved eastings and northings. NaN where the line has no length or no one direction (a circle).
 * Method  the mean of doubled angles, weighted by length (Mardia and Jupp, Directional Statistics, 2000, section 1.3).
 */
export function lineBearing(xy: ArrayLike<number>): number {
  let [sine, cosine, length] = [0, 0, 0]
  for (let i = 0; i + 3 < xy.length; i += 2) {
    const dx = xy[i + 2]! - xy[i]!
    const dy = xy[i + 3]! - xy[i + 1]!
    const leg = Math.sqrt(dx * dx + dy * dy)
    if (!(leg > 0)) continue
    // For a leg at bearing b: sin 2b and cos 2b, times its length.
    sine += (2 * dx * dy) / leg
    cosine += (dy * dy - dx * dx) / leg
    length += leg
  }
  if (!(length > 0) || Math.sqrt(sine * sine + cosine * cosine) < 0.05 * length) return Number.NaN
  const bearing = (Math.atan2(sine, cosine) * 90) / Math.PI
  const half = bearing < 0 ? bearing + 180 : bearing
  return half === 180 ? 0 : half
}
