import type { Raster } from '#core/marks'
import { normal, seededRandom } from '#core/random'

interface Pit {
  readonly x: number
  readonly y: number
  readonly sigma: number
}

/** Gaussian pits, darker than even ground of 100. */
export function drawnPits(side: number, pits: readonly Pit[], noise: number, seed = 1, depth = 30): Raster {
  const random = seededRandom(seed)
  const values = new Float32Array(side * side)
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      let value = 100 + noise * normal(random)
      for (const { x, y, sigma } of pits) {
        const squared = (column + 0.5 - x) ** 2 + (row + 0.5 - y) ** 2
        value -= depth * Math.exp(-squared / (2 * sigma * sigma))
      }
      values[row * side + column] = value
    }
  }
  return { columns: side, rows: side, values }
}
