import { scratch } from './scratch.ts'

/** Gaussian smoothing, the edge rows and columns held on beyond the edge; `sigma` in pixels, cut off at 3 of it. */
export function smoothed(values: Float32Array, columns: number, rows: number, sigma: number): Float32Array {
  const reach = Math.ceil(3 * sigma)
  const weights = Float64Array.from({ length: reach + 1 }, (_, k) => Math.exp(-(k * k) / (2 * sigma * sigma)))
  const total = weights.reduce((sum, weight, k) => sum + (k === 0 ? weight : 2 * weight), 0)
  for (let k = 0; k <= reach; k++) weights[k]! /= total
  const across = scratch(0, values.length)
  const sums = new Float64Array(columns)
  const line = new Float32Array(columns + 2 * reach)
  const beside = (k: number): number => reach + k
  for (let row = 0; row < rows; row++) {
    const at = row * columns
    line.set(values.subarray(at, at + columns), reach)
    line.fill(values[at]!, 0, reach)
    line.fill(values[at + columns - 1]!, reach + columns)
    weigh(line, beside, weights, sums)
    across.set(sums, at)
  }
  const out = new Float32Array(values.length)
  for (let row = 0; row < rows; row++) {
    weigh(across, (k) => Math.min(rows - 1, Math.max(0, row + k)) * columns, weights, sums)
    out.set(sums, row * columns)
  }
  return out
}

/** Sums of the values that stand `k` places aside, weighed: four at a time, so that each sum is fetched and put back a quarter as often. */
function weigh(
  values: Float32Array,
  startOf: (k: number) => number,
  weights: Float64Array,
  sums: Float64Array,
): void {
  const reach = weights.length - 1
  const middle = startOf(0)
  const w = weights[0]!
  for (let c = 0; c < sums.length; c++) sums[c] = w * values[middle + c]!
  for (let k = 1; k <= reach; k += 4) {
    const [w1, w2, w3, w4] = [weights[k]!, weights[k + 1] ?? 0, weights[k + 2] ?? 0, weights[k + 3] ?? 0]
    // Beyond the reach nothing is weighed, and the farthest that is there is read again.
    const [k2, k3, k4] = [Math.min(reach, k + 1), Math.min(reach, k + 2), Math.min(reach, k + 3)]
    const [a1, a2, a3, a4] = [startOf(-k), startOf(-k2), startOf(-k3), startOf(-k4)]
    const [b1, b2, b3, b4] = [startOf(k), startOf(k2), startOf(k3), startOf(k4)]
    for (let c = 0; c < sums.length; c++) {
      sums[c]! +=
        w1 * (values[a1 + c]! + values[b1 + c]!) +
        w2 * (values[a2 + c]! + values[b2 + c]!) +
        w3 * (values[a3 + c]! + values[b3 + c]!) +
        w4 * (values[a4 + c]! + values[b4 + c]!)
    }
  }
}
