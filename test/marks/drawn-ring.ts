import type { Raster } from '#core/marks'
import { normal, seededRandom } from '#core/random'

export interface Drawn {
  readonly x: number
  readonly y: number
  readonly radius: number
  readonly width: number
  /** Missing arc, bearings clockwise from up. */
  readonly gap?: readonly [fromDeg: number, toDeg: number]
  readonly depth?: number
}

/** Rings of Gaussian section, darker than even ground of 100, on `noise` of so many grey levels. */
export function drawnRings(side: number, rings: readonly Drawn[], noise = 0, seed = 1): Raster {
  const random = seededRandom(seed)
  const values = new Float32Array(side * side)
  for (let i = 0; i < values.length; i++) values[i] = 100 + (noise > 0 ? noise * normal(random) : 0)
  for (const { x, y, radius, width, gap, depth = 10 } of rings) {
    const sigma = width / 2.355
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        const [dx, dy] = [column + 0.5 - x, row + 0.5 - y]
        const bearing = ((Math.atan2(dx, -dy) * 180) / Math.PI + 360) % 360
        if (gap && bearing > gap[0] && bearing < gap[1]) continue
        const off = Math.hypot(dx, dy) - radius
        values[row * side + column]! -= depth * Math.exp((-off * off) / (2 * sigma * sigma))
      }
    }
  }
  return { columns: side, rows: side, values }
}
