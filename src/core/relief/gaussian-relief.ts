import type { LocalReliefOptions } from './box-relief.ts'
import { checkRows, hasMissing, type Reach, type Terrain } from './terrain.ts'

/** Rows worked at a time, so that what is held beside the terrain stays small. */
const bandRows = 256
/** The bell is cut off this many standard deviations from its middle, where it has fallen to 0.03 %. */
const cutOff = 4

/** Cells from the middle of the bell to where it is cut off. Faults: RangeError where that is less than one cell. */
export function gaussianReach({ cellX, cellY }: Terrain, radiusM: number): Reach {
  const cut = (cutOff * radiusM) / 2
  const reach = { columns: Math.round(cut / cellX), rows: Math.round(cut / cellY) }
  if (!(reach.columns > 0 && reach.rows > 0 && Number.isFinite(radiusM)))
    throw new RangeError(`a radius of ${radiusM} m does not reach the next cell of ${cellX} x ${cellY} m`)
  return reach
}

/** Weights of the bell 0 to `reach` cells from its middle; both sides together add up to 1. */
function bell(sigma: number, reach: number): Float64Array {
  const weights = Float64Array.from({ length: reach + 1 }, (_, i) => Math.exp(-((i / sigma) ** 2) / 2))
  const total = weights.reduce((sum, weight) => sum + 2 * weight, -weights[0]!)
  return weights.map((weight) => weight / total)
}

/**
 * Height above the mean weighted by a bell about each cell, the rows from `rowFrom` up to `rowTo`: its standard deviation is half of
 * `radiusM`, and it is cut off at four of them. Metres; NaN where there is no height.
 *
 * Method  terrain less its smoothed self (Hesse 2010, Archaeological Prospection 17), one axis after the other. Where heights are
 *         missing or the raster ends, the weights that are there are scaled up to one (normalised convolution,
 *         Knutsson and Westin 1993). Sums in double precision.
 * Cost    grows with the radius: about 1 ns a cell and cell of reach along each axis, twice that where heights are missing.
 *         Memory for 256 rows and the reach, ten to twenty bytes a cell.
 * Faults  RangeError for a radius that does not reach a cell, and as `checkRows`.
 */
export function gaussianReliefRows(
  terrain: Terrain,
  { radiusM, edges }: LocalReliefOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const reach = gaussianReach(terrain, radiusM)
  const { columns, cellX, cellY, values } = terrain
  const across = bell(radiusM / 2 / cellX, reach.columns)
  const down = bell(radiusM / 2 / cellY, reach.rows)
  const smooth = new Float64Array(columns)
  const weight = new Float64Array(columns)
  const middle = new Float64Array(columns + 2 * reach.columns)
  // Rounding leaves a full weight a little short of 1.
  const least = edges === 'leave' ? 1 - 1e-9 : 0
  for (let from = rowFrom; from < rowTo; from += bandRows) {
    const to = Math.min(rowTo, from + bandRows)
    const heights = paddedBand(terrain, reach, from, to, (height) => (Number.isNaN(height) ? 0 : height))
    const missing = hasMissing(terrain, from - reach.rows, to + reach.rows)
    const mask = missing ? paddedBand(terrain, reach, from, to, (h) => (Number.isNaN(h) ? 0 : 1)) : null
    if (mask === null) weightsInside(across, weight)
    for (let row = from; row < to; row++) {
      sumDown(heights, row - from + reach.rows, down, middle)
      sumAcross(middle, across, smooth)
      if (mask !== null) {
        sumDown(mask, row - from + reach.rows, down, middle)
        sumAcross(middle, across, weight)
      }
      const inside = mask === null ? weightInside(down, row, terrain.rows) : 1
      for (let c = 0, p = row * columns; c < columns; c++, p++) {
        const there = weight[c]! * inside
        out[p] = there > least ? values[p]! - smooth[c]! / there : Number.NaN
      }
    }
  }
}

/** The rows from `from` up to `to` with a margin of zeros, or of what lies there, on all sides. */
function paddedBand(
  { columns, rows, values }: Terrain,
  reach: Reach,
  from: number,
  to: number,
  value: (height: number) => number,
): Float32Array {
  const stride = columns + 2 * reach.columns
  const band = new Float32Array(stride * (to - from + 2 * reach.rows))
  for (let r = Math.max(0, from - reach.rows); r < Math.min(rows, to + reach.rows); r++) {
    const into = (r - from + reach.rows) * stride + reach.columns
    for (let c = 0; c < columns; c++) band[into + c] = value(values[r * columns + c]!)
  }
  return band
}

/** The weighted sum down each column about a row of the band. */
function sumDown(band: Float32Array, row: number, weights: Float64Array, sum: Float64Array): void {
  const stride = sum.length
  const at = row * stride
  for (let c = 0; c < stride; c++) sum[c] = weights[0]! * band[at + c]!
  let i = 1
  for (; i + 1 < weights.length; i += 2) {
    const [w, v] = [weights[i]!, weights[i + 1]!]
    const [a, b] = [at - i * stride, at + i * stride]
    for (let c = 0; c < stride; c++)
      sum[c] =
        sum[c]! + w * (band[a + c]! + band[b + c]!) + v * (band[a - stride + c]! + band[b + stride + c]!)
  }
  for (; i < weights.length; i++) {
    const [a, b] = [at - i * stride, at + i * stride]
    for (let c = 0; c < stride; c++) sum[c] = sum[c]! + weights[i]! * (band[a + c]! + band[b + c]!)
  }
}

/** The weighted sum along a row that has a margin on either side. */
function sumAcross(row: Float64Array, weights: Float64Array, sum: Float64Array): void {
  const reach = weights.length - 1
  for (let c = 0; c < sum.length; c++) {
    const at = c + reach
    let total = weights[0]! * row[at]!
    for (let i = 1; i <= reach; i++) total += weights[i]! * (row[at - i]! + row[at + i]!)
    sum[c] = total
  }
}

/** For each column the weights that fall inside the raster. */
function weightsInside(weights: Float64Array, inside: Float64Array): void {
  for (let c = 0; c < inside.length; c++) inside[c] = weightInside(weights, c, inside.length)
}

/** The weights that fall inside `length` cells about cell `at`. */
function weightInside(weights: Float64Array, at: number, length: number): number {
  let total = weights[0]!
  for (let i = 1; i < weights.length; i++)
    total += weights[i]! * ((at - i >= 0 ? 1 : 0) + (at + i < length ? 1 : 0))
  return total
}

/** Height of a whole terrain above the bell-weighted mean about each cell; see `gaussianReliefRows`. */
export function gaussianRelief(terrain: Terrain, options: LocalReliefOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  gaussianReliefRows(terrain, options, out, 0, terrain.rows)
  return out
}
