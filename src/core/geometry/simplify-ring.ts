/**
 * Thins a ring to vertices of its own, so that every vertex left out lies within `tolerance` of the edge that replaces it.
 *
 * Shape   interleaved pairs, the first not repeated at the end, in and out; fewer than three pairs where the ring is no
 *         wider than the tolerance.
 * Method  sleeve fitting (Zhao and Saalfeld 1997, "Linear-time sleeve-fitting polyline simplification algorithms",
 *         AutoCarto 13): from an anchor the cone of directions that pass all vertices so far is narrowed until a vertex
 *         falls out of it; a vertex that comes back towards the anchor by more than the tolerance ends the edge too.
 * Cost    linear.
 * Limits  a ring that is nowhere wider than twice the tolerance may come to cross itself: see `ringMeetings`.
 */
export function simplifyRing(ring: Int32Array | Float64Array, tolerance: number): Float64Array {
  const vertices = ring.length >> 1
  const start = westmost(ring)
  const kept = new Float64Array(ring.length)
  let length = 0
  let anchorX = ring[2 * start]!
  let anchorY = ring[2 * start + 1]!
  let previousX = anchorX
  let previousY = anchorY
  let farthest = 0
  let open = true
  let [leftX, leftY, rightX, rightY] = [0, 0, 0, 0]
  for (let k = 1; k <= vertices; k++) {
    const i = 2 * ((start + k) % vertices)
    const x = ring[i]!
    const y = ring[i + 1]!
    let dx = x - anchorX
    let dy = y - anchorY
    let distance = Math.sqrt(dx * dx + dy * dy)
    const inCone = open || (rightX * dy - rightY * dx >= 0 && dx * leftY - dy * leftX >= 0)
    if (!inCone || distance < farthest - tolerance) {
      kept[length++] = anchorX
      kept[length++] = anchorY
      anchorX = previousX
      anchorY = previousY
      dx = x - anchorX
      dy = y - anchorY
      distance = Math.sqrt(dx * dx + dy * dy)
      farthest = 0
      open = true
    }
    if (distance > farthest) farthest = distance
    if (distance > tolerance) {
      // The directions from the anchor that pass this vertex within the tolerance.
      const sine = tolerance / distance
      const cosine = Math.sqrt(1 - sine * sine)
      const toLeftX = dx * cosine - dy * sine
      const toLeftY = dy * cosine + dx * sine
      const toRightX = dx * cosine + dy * sine
      const toRightY = dy * cosine - dx * sine
      if (open || toLeftX * leftY - toLeftY * leftX > 0) [leftX, leftY] = [toLeftX, toLeftY]
      if (open || rightX * toRightY - rightY * toRightX > 0) [rightX, rightY] = [toRightX, toRightY]
      open = false
    }
    previousX = x
    previousY = y
  }
  kept[length++] = anchorX
  kept[length++] = anchorY
  return kept.slice(0, length)
}

/** A corner that any simpler ring should keep, so that the outcome does not depend on where the ring begins. */
function westmost(ring: Int32Array | Float64Array): number {
  let found = 0
  for (let i = 2; i < ring.length; i += 2) {
    const x = ring[i]!
    if (x < ring[found]! || (x === ring[found]! && ring[i + 1]! < ring[found + 1]!)) found = i
  }
  return found >> 1
}
