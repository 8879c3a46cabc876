/** How two straight segments meet: not at all, crossing in one inner point, touching in a point, lying along each other. */
export type Meeting = 'none' | 'crossing' | 'touch' | 'overlap'

/** Closer than this counts as touching: a nanometre, where coordinates are metres from a near origin. */
export const near = 1e-9

/**
 * How the segment from (ax, ay) to (bx, by) meets that from (cx, cy) to (dx, dy). Neither may have length 0. Give
 * coordinates from a near origin, not full eastings and northings, or the last bits are lost.
 */
export function segmentsMeet(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): Meeting {
  const abx = bx - ax
  const aby = by - ay
  const cdx = dx - cx
  const cdy = dy - cy
  const ab = Math.sqrt(abx * abx + aby * aby)
  const cd = Math.sqrt(cdx * cdx + cdy * cdy)
  // Distances of the ends of each segment from the line of the other, positive on its left.
  const c = (abx * (cy - ay) - aby * (cx - ax)) / ab
  const d = (abx * (dy - ay) - aby * (dx - ax)) / ab
  if ((c > near && d > near) || (c < -near && d < -near)) return 'none'
  const a = (cdx * (ay - cy) - cdy * (ax - cx)) / cd
  const b = (cdx * (by - cy) - cdy * (bx - cx)) / cd
  if ((a > near && b > near) || (a < -near && b < -near)) return 'none'
  if (Math.abs(c) > near && Math.abs(d) > near && Math.abs(a) > near && Math.abs(b) > near) return 'crossing'
  // At least one end lies on the line of the other segment: compare along the longer one.
  const along = ab >= cd
  const [ux, uy, length] = along ? [abx / ab, aby / ab, ab] : [cdx / cd, cdy / cd, cd]
  const [ox, oy] = along ? [ax, ay] : [cx, cy]
  const [px, py, qx, qy] = along ? [cx, cy, dx, dy] : [ax, ay, bx, by]
  const [pOff, qOff] = along ? [c, d] : [a, b]
  const p = (px - ox) * ux + (py - oy) * uy
  const q = (qx - ox) * ux + (qy - oy) * uy
  if (Math.abs(pOff) <= near && Math.abs(qOff) <= near) {
    const shared = Math.min(length, Math.max(p, q)) - Math.max(0, Math.min(p, q))
    return shared > near ? 'overlap' : shared >= -near ? 'touch' : 'none'
  }
  const onSpan = (at: number): boolean => at >= -near && at <= length + near
  if (Math.abs(pOff) <= near) return onSpan(p) ? 'touch' : 'none'
  if (Math.abs(qOff) <= near) return onSpan(q) ? 'touch' : 'none'
  // The longer one ends on the line of the shorter; the rest was settled above.
  return 'touch'
}
