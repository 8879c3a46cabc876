import type { Raster } from '#core/marks'
import { normal, seededRandom } from '#core/random'

export interface DrawnDitch {
  /** Distance from the middle of the ditch at a place, pixels; Infinity where there is none. */
  readonly off: (x: number, y: number) => number
  /** Full width at half depth, pixels. */
  readonly width: number
  /** Grey levels; below 0 for a bank. */
  readonly depth?: number
}

/** Ditches of Gaussian section, darker than even ground of 100, on `noise` of so many grey levels. */
export function drawnDitches(side: number, ditches: readonly DrawnDitch[], noise = 0, seed = 1): Raster {
  const random = seededRandom(seed)
  const values = new Float32Array(side * side)
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      let value = 100 + (noise > 0 ? noise * normal(random) : 0)
      for (const { off, width, depth = 10 } of ditches)
        value -= depth * Math.exp((-4 * Math.LN2 * off(column + 0.5, row + 0.5) ** 2) / (width * width))
      values[row * side + column] = value
    }
  }
  return { columns: side, rows: side, values }
}

/** A straight ditch from one place to another. */
export function leg(
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
): DrawnDitch['off'] {
  const [dx, dy] = [bx - ax, by - ay]
  const squared = dx * dx + dy * dy
  return (x, y) => {
    const along = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / squared))
    return Math.hypot(x - ax - along * dx, y - ay - along * dy)
  }
}
