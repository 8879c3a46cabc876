/** How near two segments come to each other, and where on the first. */
export interface Nearness {
  readonly distance: number
  readonly x: number
  readonly y: number
}

/** The place of segment ab nearest to (x, y), as a share of ab from a. A segment of no length is its start. */
function shareAt(x: number, y: number, ax: number, ay: number, bx: number, by: number): number {
  const square = (bx - ax) ** 2 + (by - ay) ** 2
  if (square === 0) return 0
  return Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square))
}

/**
 * Distance between segments ab and cd, either of which may be a point; 0 where they meet. The place is on ab.
 *
 * Method  where they cross, the crossing; else the least of the four distances from an end of one to the other.
 */
export function segmentDistance(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): Nearness {
  const cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
  if (cross !== 0) {
    const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / cross
    const w = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / cross
    if (t >= 0 && t <= 1 && w >= 0 && w <= 1)
      return { distance: 0, x: ax + t * (bx - ax), y: ay + t * (by - ay) }
  }
  let best: Nearness = { distance: Infinity, x: ax, y: ay }
  for (const [x, y] of [
    [ax, ay],
    [bx, by],
  ] as const) {
    const w = shareAt(x, y, cx, cy, dx, dy)
    const distance = Math.hypot(x - cx - w * (dx - cx), y - cy - w * (dy - cy))
    if (distance < best.distance) best = { distance, x, y }
  }
  for (const [x, y] of [
    [cx, cy],
    [dx, dy],
  ] as const) {
    const t = shareAt(x, y, ax, ay, bx, by)
    const [px, py] = [ax + t * (bx - ax), ay + t * (by - ay)]
    const distance = Math.hypot(x - px, y - py)
    if (distance < best.distance) best = { distance, x: px, y: py }
  }
  return best
}
