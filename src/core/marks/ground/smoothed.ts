/** Gaussian smoothing, the edge rows and columns held on beyond the edge; `sigma` in pixels, cut off at 3 of it. */
export function smoothed(values: Float32Array, columns: number, rows: number, sigma: number): Float32Array {
  const reach = Math.ceil(3 * sigma)
  const weights = Float64Array.from({ length: reach + 1 }, (_, k) => Math.exp(-(k * k) / (2 * sigma * sigma)))
  const total = weights.reduce((sum, weight, k) => sum + (k === 0 ? weight : 2 * weight), 0)
  for (let k = 0; k <= reach; k++) weights[k]! /= total
  const across = new Float32Array(values.length)
  const line = new Float64Array(columns + 2 * reach)
  for (let row = 0; row < rows; row++) {
    const at = row * columns
    for (let c = 0; c < line.length; c++)
      line[c] = values[at + Math.min(columns - 1, Math.max(0, c - reach))]!
    for (let column = 0; column < columns; column++) {
      let sum = weights[0]! * line[column + reach]!
      for (let k = 1; k <= reach; k++)
        sum += weights[k]! * (line[column + reach - k]! + line[column + reach + k]!)
      across[at + column] = sum
    }
  }
  const out = new Float32Array(values.length)
  for (let row = 0; row < rows; row++) {
    const at = row * columns
    const middle = weights[0]!
    for (let column = 0; column < columns; column++) out[at + column] = middle * across[at + column]!
    for (let k = 1; k <= reach; k++) {
      const up = Math.max(0, row - k) * columns
      const down = Math.min(rows - 1, row + k) * columns
      const weight = weights[k]!
      for (let column = 0; column < columns; column++)
        out[at + column]! += weight * (across[up + column]! + across[down + column]!)
    }
  }
  return out
}
