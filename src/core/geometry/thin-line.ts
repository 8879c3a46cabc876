/**
 * Thins a line for drawing: keeps the vertices without which the line would move by more than `tolerance`.
 *
 * Shape   interleaved x, y pairs in and out, in the units of `tolerance`; the ends are always kept.
 * Method  Douglas and Peucker 1973 (Cartographica 10), with a stack of its own instead of recursion.
 * Cost    n log n for a walked line, n squared at worst.
 */
export function thinLine(xy: Float64Array, tolerance: number): Float64Array {
  const n = xy.length / 2
  if (n <= 2 || !(tolerance > 0)) return xy
  const keep = new Uint8Array(n)
  keep[0] = 1
  keep[n - 1] = 1
  const stack = [0, n - 1]
  let kept = 2
  while (stack.length > 0) {
    const last = stack.pop()!
    const first = stack.pop()!
    const far = farthestFromChord(xy, first, last, tolerance)
    if (far < 0) continue
    keep[far] = 1
    kept += 1
    if (far - first > 1) stack.push(first, far)
    if (last - far > 1) stack.push(far, last)
  }
  const out = new Float64Array(kept * 2)
  let o = 0
  for (let i = 0; i < n; i++) {
    if (keep[i] === 0) continue
    out[o++] = xy[2 * i]!
    out[o++] = xy[2 * i + 1]!
  }
  return out
}

/** The vertex between two others that lies farthest from the leg that joins them; -1 where none is beyond `tolerance`. */
function farthestFromChord(xy: Float64Array, first: number, last: number, tolerance: number): number {
  const x0 = xy[2 * first]!
  const y0 = xy[2 * first + 1]!
  const dx = xy[2 * last]! - x0
  const dy = xy[2 * last + 1]! - y0
  const squared = dx * dx + dy * dy
  let worst = tolerance * tolerance
  let found = -1
  for (let i = first + 1; i < last; i++) {
    const px = xy[2 * i]! - x0
    const py = xy[2 * i + 1]! - y0
    const along = squared > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / squared)) : 0
    const distance = (px - along * dx) ** 2 + (py - along * dy) ** 2
    if (distance > worst) {
      worst = distance
      found = i
    }
  }
  return found
}
