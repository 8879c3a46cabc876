import type { Polygon } from '#core/geometry'

/** The bearing along which lanes over some ground are fewest. */
export interface FewestTurns {
  /** Degrees clockwise from grid north, 0 up to 180. */
  readonly bearing: number
  /** Metres across the lanes, summed over all stretches of ground side by side: over the spacing, the number of lanes. */
  readonly acrossM: number
}

/**
 * The bearing with the fewest lanes, and so the fewest turns, over a polygon of any shape with holes.
 *
 * Method  lanes along a unit vector d cross an edge e every |e x d| / spacing of it, and two crossings make a lane, so there are
 *         F(d) / spacing of them, F(d) = 1/2 sum |e x d|. Between the directions of two edges F is a sum of sines, which is concave: the
 *         least lies along an edge. For a convex outline F is the width and this the rotating calipers.
 * Source  Houle and Toussaint 1988, "Computing the width of a set", IEEE PAMI 10 (5), for the convex case; docs/methods/lanes.md#fewest-turns
 * Cost    sorting the edges by direction.
 */
export function fewestTurns({ rings }: Polygon): FewestTurns {
  const vectors = rings.flatMap(upwardEdges).sort((a, b) => a.angle - b.angle)
  const sum = { x: 0, y: 0 }
  for (const { x, y } of vectors) {
    sum.x += x
    sum.y += y
  }
  let [beforeX, beforeY] = [0, 0]
  let best: FewestTurns = { bearing: 0, acrossM: Infinity }
  for (const { x, y, angle } of vectors) {
    beforeX += x
    beforeY += y
    const length = Math.sqrt(x * x + y * y)
    // Edges before this one in angle lie to its right, those after to its left.
    const across = (x * (sum.y - 2 * beforeY) - y * (sum.x - 2 * beforeX)) / length / 2
    if (across < best.acrossM - 1e-9 * length) best = { bearing: bearingOfAngle(angle), acrossM: across }
  }
  return best
}

interface Upward {
  readonly x: number
  readonly y: number
  /** From east, counter-clockwise, 0 up to pi. */
  readonly angle: number
}

function upwardEdges(ring: Float64Array): Upward[] {
  const out: Upward[] = []
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const dx = ring[i + 2]! - ring[i]!
    const dy = ring[i + 3]! - ring[i + 1]!
    if (dx === 0 && dy === 0) continue
    const sign = dy < 0 || (dy === 0 && dx < 0) ? -1 : 1
    out.push({ x: sign * dx, y: sign * dy, angle: Math.atan2(sign * dy, sign * dx) })
  }
  return out
}

function bearingOfAngle(angle: number): number {
  const bearing = 90 - (angle * 180) / Math.PI
  return bearing < 0 ? bearing + 180 : bearing
}
