/** An upright rectangle in the units of its coordinates; empty while minX > maxX. */
export interface Bounds {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

export const emptyBounds: Bounds = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }

/** Bounds of interleaved x, y pairs. NaN pairs are passed over; no pairs give `emptyBounds`. */
export function boundsOf(xy: Float64Array): Bounds {
  let { minX, minY, maxX, maxY } = emptyBounds
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const x = xy[i]!
    const y = xy[i + 1]!
    if (x < minX) minX = x
    if (x > maxX) maxX = x
    if (y < minY) minY = y
    if (y > maxY) maxY = y
  }
  return { minX, minY, maxX, maxY }
}

/** The smallest bounds that hold both. */
export function joinBounds(a: Bounds, b: Bounds): Bounds {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  }
}
