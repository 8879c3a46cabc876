/** Vertices move along the bisector at most this many times as far as their edges do. */
const sharpest = 2

/**
 * Moves the edges of a ring outwards or inwards by one small distance so that it encloses a wanted area exactly.
 *
 * Shape   interleaved pairs, the first not repeated at the end, in and out; either winding.
 * Method  each vertex moves along the bisector of its edges, in proportion to the distance s; the area is then a
 *         polynomial A + B s + C s^2, whose root nearest to 0 is taken.
 * Limits  null where no distance up to `most` gives the area, or an edge has length 0.
 */
export function ringOfArea(ring: Float64Array, wanted: number, most: number): Float64Array | null {
  const n = ring.length
  const shift = bisectors(ring)
  let area = 0
  let linear = 0
  let square = 0
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 < n ? i + 2 : 0
    area += cross(ring, i, ring, j)
    linear += cross(ring, i, shift, j) + cross(shift, i, ring, j)
    square += cross(shift, i, shift, j)
  }
  const sign = Math.sign(area)
  const missing = 2 * sign * wanted - area
  // missing = linear s + square s^2, solved in the form that does not cancel.
  const root = Math.sqrt(linear * linear + 4 * square * missing)
  const s = missing === 0 ? 0 : (2 * missing) / (linear + (linear < 0 ? -root : root))
  if (!(Math.abs(s) <= most)) return null
  return ring.map((value, i) => value + s * shift[i]!)
}

function cross(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return a[i]! * b[j + 1]! - a[i + 1]! * b[j]!
}

/** For each vertex the way it moves when both its edges move by 1 to their right. */
function bisectors(ring: Float64Array): Float64Array {
  const n = ring.length
  const shift = new Float64Array(n)
  for (let i = 0; i < n; i += 2) {
    const before = i > 0 ? i - 2 : n - 2
    const after = i + 2 < n ? i + 2 : 0
    const inX = ring[i]! - ring[before]!
    const inY = ring[i + 1]! - ring[before + 1]!
    const outX = ring[after]! - ring[i]!
    const outY = ring[after + 1]! - ring[i + 1]!
    const inLength = Math.sqrt(inX * inX + inY * inY)
    const outLength = Math.sqrt(outX * outX + outY * outY)
    const x = inY / inLength + outY / outLength
    const y = -inX / inLength - outX / outLength
    const scale = Math.max((x * x + y * y) / 2, 1 / sharpest)
    shift[i] = x / scale
    shift[i + 1] = y / scale
  }
  return shift
}
