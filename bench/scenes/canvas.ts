import { normal, type Random } from '#core/random'

/** A square of numbers to draw on; row 0 is the uppermost. */
export interface Canvas {
  readonly side: number
  readonly values: Float32Array
}

export function blankCanvas(side: number): Canvas {
  return { side, values: new Float32Array(side * side) }
}

/** Three running means, near enough a Gaussian of `sigma` for a ground (edges are mirrored by clamping). */
export function blurred({ side, values }: Canvas, sigma: number): Canvas {
  const half = Math.max(1, Math.round((Math.sqrt(4 * sigma * sigma + 1) - 1) / 2))
  let from = values
  for (let pass = 0; pass < 3; pass++) from = meanDown(meanAcross(from, side, half), side, half)
  return { side, values: from }
}

function meanAcross(values: Float32Array, side: number, half: number): Float32Array {
  const out = new Float32Array(values.length)
  const width = 2 * half + 1
  for (let row = 0; row < side; row++) {
    const at = row * side
    let sum = 0
    for (let k = -half; k <= half; k++) sum += values[at + Math.min(side - 1, Math.max(0, k))]!
    for (let column = 0; column < side; column++) {
      out[at + column] = sum / width
      sum += values[at + Math.min(side - 1, column + half + 1)]! - values[at + Math.max(0, column - half)]!
    }
  }
  return out
}

function meanDown(values: Float32Array, side: number, half: number): Float32Array {
  const out = new Float32Array(values.length)
  const width = 2 * half + 1
  const sums = new Float64Array(side)
  const row = (at: number): number => Math.min(side - 1, Math.max(0, at)) * side
  for (let k = -half; k <= half; k++)
    for (let column = 0; column < side; column++) sums[column]! += values[row(k) + column]!
  for (let at = 0; at < side; at++) {
    const [gone, come] = [row(at - half), row(at + half + 1)]
    for (let column = 0; column < side; column++) {
      out[at * side + column] = sums[column]! / width
      sums[column]! += values[come + column]! - values[gone + column]!
    }
  }
  return out
}

export function spreadOf(values: Float32Array): number {
  let sum = 0
  let squares = 0
  for (const value of values) {
    sum += value
    squares += value * value
  }
  return Math.sqrt(squares / values.length - (sum / values.length) ** 2)
}

/** Ground of standard deviation 1 whose grain has the size `sigma` pixels (0 for none between neighbours). */
export function grain(random: Random, side: number, sigma: number): Canvas {
  // Coarse grain is drawn small and stretched: the same ground at a fraction of the draws.
  const step = Math.max(1, Math.floor(sigma / 3))
  const small = Math.ceil(side / step) + 3
  const noise = blankCanvas(small)
  for (let i = 0; i < noise.values.length; i++) noise.values[i] = normal(random)
  const soft = sigma > 0 ? blurred(noise, sigma / step) : noise
  const spread = spreadOf(soft.values)
  const out = blankCanvas(side)
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      out.values[row * side + column] = between(soft, column / step, row / step) / spread
    }
  }
  return out
}

function between({ side, values }: Canvas, x: number, y: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)]
  const [u, v] = [x - left, y - top]
  const at = top * side + left
  if (u === 0 && v === 0) return values[at]!
  const upper = values[at]! * (1 - u) + values[at + 1]! * u
  const lower = values[at + side]! * (1 - u) + values[at + side + 1]! * u
  return upper * (1 - v) + lower * v
}

export function add(canvas: Canvas, other: Canvas, times: number): void {
  for (let i = 0; i < canvas.values.length; i++) canvas.values[i]! += times * other.values[i]!
}

/** Adds `height(x, y)` to every pixel within `reach` of (x, y); x and y run from the pixel's centre. */
export function stamp(
  { side, values }: Canvas,
  [x, y, reach]: readonly [number, number, number],
  height: (dx: number, dy: number) => number,
): void {
  const [top, bottom] = [Math.max(0, Math.floor(y - reach)), Math.min(side - 1, Math.ceil(y + reach))]
  const [left, right] = [Math.max(0, Math.floor(x - reach)), Math.min(side - 1, Math.ceil(x + reach))]
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column <= right; column++) {
      values[row * side + column]! += height(column + 0.5 - x, row + 0.5 - y)
    }
  }
}
