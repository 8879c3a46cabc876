import { scratch } from './scratch.ts'

/**
 * The Gaussian cut off at three deviations, at most `mostReach` pixels, across and then down; pixels beyond the edge are those of the edge. The answer stands in
 * memory that the next call takes again.
 */
export function quicklySmoothed(
  values: Float32Array,
  columns: number,
  rows: number,
  sigma: number,
): Float32Array {
  const reach = Math.ceil(3 * sigma)
  const weights = Float64Array.from({ length: reach + 1 }, (_, k) => Math.exp(-(k * k) / (2 * sigma * sigma)))
  const total = weights.reduce((sum, weight, k) => sum + (k === 0 ? weight : 2 * weight), 0)
  for (let k = 0; k <= reach; k++) weights[k]! /= total
  const across = scratch(0, values.length)
  const line = new Float64Array(columns + 2 * mostReach)
  for (let row = 0; row < rows; row++) {
    const at = row * columns
    for (let c = 0; c < columns; c++) line[c + mostReach] = values[at + c]!
    line.fill(values[at]!, 0, mostReach)
    line.fill(values[at + columns - 1]!, columns + mostReach)
    weighLine(line, weights, across, at, columns)
  }
  const out = scratch(1, values.length)
  for (let row = 0; row < rows; row++) weighRows(across, weights, out, row, columns, rows)
  return out
}

/** Half the length of the longest Gaussian. */
const mostReach = 6

/** Six terms whatever the length: those beyond it weigh nothing, and a loop without a loop inside is twice as fast. */
function weighLine(
  line: Float64Array,
  weights: Float64Array,
  out: Float32Array,
  at: number,
  columns: number,
): void {
  const w0 = weights[0]!
  const w1 = weights[1]!
  const w2 = weights[2]!
  const w3 = weights[3] ?? 0
  const w4 = weights[4] ?? 0
  const w5 = weights[5] ?? 0
  const w6 = weights[6] ?? 0
  for (let c = 0; c < columns; c++) {
    const i = c + mostReach
    out[at + c] =
      w0 * line[i]! +
      w1 * (line[i - 1]! + line[i + 1]!) +
      w2 * (line[i - 2]! + line[i + 2]!) +
      w3 * (line[i - 3]! + line[i + 3]!) +
      w4 * (line[i - 4]! + line[i + 4]!) +
      w5 * (line[i - 5]! + line[i + 5]!) +
      w6 * (line[i - 6]! + line[i + 6]!)
  }
}

function weighRows(
  from: Float32Array,
  weights: Float64Array,
  out: Float32Array,
  row: number,
  columns: number,
  rows: number,
): void {
  const w0 = weights[0]!
  const w1 = weights[1]!
  const w2 = weights[2]!
  const w3 = weights[3] ?? 0
  const w4 = weights[4] ?? 0
  const w5 = weights[5] ?? 0
  const w6 = weights[6] ?? 0
  const up = (k: number): number => Math.max(0, row - k) * columns
  const down = (k: number): number => Math.min(rows - 1, row + k) * columns
  const [u1, u2, u3, u4, u5, u6] = [up(1), up(2), up(3), up(4), up(5), up(6)]
  const [d1, d2, d3, d4, d5, d6] = [down(1), down(2), down(3), down(4), down(5), down(6)]
  const at = row * columns
  for (let c = 0; c < columns; c++) {
    out[at + c] =
      w0 * from[at + c]! +
      w1 * (from[u1 + c]! + from[d1 + c]!) +
      w2 * (from[u2 + c]! + from[d2 + c]!) +
      w3 * (from[u3 + c]! + from[d3 + c]!) +
      w4 * (from[u4 + c]! + from[d4 + c]!) +
      w5 * (from[u5 + c]! + from[d5 + c]!) +
      w6 * (from[u6 + c]! + from[d6 + c]!)
  }
}
