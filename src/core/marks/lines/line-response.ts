import { quicklySmoothed } from '../ground/quickly-smoothed.ts'
import { scratch } from '../ground/scratch.ts'
import { lineDirections, sumReach, sumSteps } from './line-directions.ts'
import { inverseNoise, type NoiseBlocks } from './line-noise.ts'
import { type PaddedFrame, responsePad } from './padded-frame.ts'

/** Standard deviation of the Gaussian that lines are looked for with, pixels: those of some 1.5 to 5 pixels. A wider one found less on every ground tried. */
export const lineScale = 1.25
/** A second Gaussian, by which the width of a line is told. */
export const widerScale = 1.9

/** The best of all directions at each pixel of a padded frame, in standard deviations of bare ground. */
export interface BestResponse {
  readonly strength: Float32Array
  readonly direction: Uint8Array
}

export interface LineResponse {
  /** The frame smoothed at `lineScale` and at `widerScale`. */
  readonly smooth: Float32Array
  readonly smoother: Float32Array
  readonly light: BestResponse | null
  readonly dark: BestResponse | null
  /** Inverse noise of each direction, by block. */
  readonly inverse: readonly Float32Array[]
}

/**
 * How strongly each pixel lies on a line.
 *
 * Method  second derivative across (Lindeberg 1998, IJCV 30, 117 to 154) of the Gaussian-smoothed ground, summed along some 21 pixels in 16 directions; each
 *         direction in standard deviations of what it gives round about, so that furrows count for little along themselves.
 * Cost    some 8 ns a pixel and direction.
 */
export function lineResponse(
  frame: PaddedFrame,
  blocks: NoiseBlocks,
  tones: { readonly light: boolean; readonly dark: boolean },
): LineResponse {
  const { columns, rows, values } = frame
  const empty = (): BestResponse => ({
    strength: new Float32Array(values.length),
    direction: new Uint8Array(values.length),
  })
  const light = tones.light ? empty() : null
  const dark = tones.dark ? empty() : null
  const smooth = quicklySmoothed(values, columns, rows, lineScale).slice()
  const smoother = quicklySmoothed(values, columns, rows, widerScale).slice()
  const seconds = secondDerivatives(smooth, frame, lineScale * lineScale)
  const inverse = lineDirections.map((direction, code) => {
    const sums = summedAlong(seconds, frame, direction)
    const own = inverseNoise(sums, frame, blocks)
    if (light) keepBest(light, sums, { frame, blocks, inverse: own, sign: 1, code })
    if (dark) keepBest(dark, sums, { frame, blocks, inverse: own, sign: -1, code })
    return own
  })
  return { smooth, smoother, light, dark, inverse }
}

interface Seconds {
  readonly xx: Float32Array
  readonly yy: Float32Array
  readonly xy: Float32Array
}

function secondDerivatives(soft: Float32Array, { columns, rows }: PaddedFrame, factor: number): Seconds {
  const xx = scratch(3, soft.length)
  const yy = scratch(4, soft.length)
  const xy = scratch(5, soft.length)
  const edge = responsePad - sumReach
  for (let row = edge; row < rows - edge; row++) {
    for (let i = row * columns + edge, end = (row + 1) * columns - edge; i < end; i++) {
      const middle = 2 * soft[i]!
      xx[i] = factor * (middle - soft[i - 1]! - soft[i + 1]!)
      yy[i] = factor * (middle - soft[i - columns]! - soft[i + columns]!)
      xy[i] =
        (factor / 4) *
        (soft[i - columns + 1]! + soft[i + columns - 1]! - soft[i - columns - 1]! - soft[i + columns + 1]!)
    }
  }
  return { xx, yy, xy }
}

/** Minus the second derivative across a direction, summed along it: three neighbours, and seven such sums. What is beyond the region stays as it was. */
function summedAlong(
  { xx, yy, xy }: Seconds,
  { columns, rows }: PaddedFrame,
  direction: (typeof lineDirections)[number],
): Float32Array {
  const { cos, sin } = direction
  const { near, nearNext, share, step, twice, thrice } = sumSteps(direction, columns)
  const across = scratch(0, xx.length)
  const [a, b, c] = [sin * sin, cos * cos, -2 * sin * cos]
  const far = responsePad - sumReach
  for (let row = far; row < rows - far; row++)
    for (let i = row * columns + far, end = (row + 1) * columns - far; i < end; i++)
      across[i] = a * xx[i]! + b * yy[i]! + c * xy[i]!
  const short = scratch(1, xx.length)
  const rest = 1 - share
  const nearer = far + 1
  for (let row = nearer; row < rows - nearer; row++) {
    for (let i = row * columns + nearer, end = (row + 1) * columns - nearer; i < end; i++) {
      short[i] =
        across[i]! +
        rest * (across[i + near]! + across[i - near]!) +
        share * (across[i + nearNext]! + across[i - nearNext]!)
    }
  }
  const long = scratch(6, xx.length)
  for (let row = responsePad; row < rows - responsePad; row++) {
    for (let i = row * columns + responsePad, end = (row + 1) * columns - responsePad; i < end; i++)
      long[i] =
        short[i]! +
        short[i + step]! +
        short[i - step]! +
        short[i + twice]! +
        short[i - twice]! +
        short[i + thrice]! +
        short[i - thrice]!
  }
  return long
}

interface Offered {
  readonly frame: PaddedFrame
  readonly blocks: NoiseBlocks
  readonly inverse: Float32Array
  readonly sign: 1 | -1
  readonly code: number
}

/** Takes a direction over where it is better than all before it. */
function keepBest(
  { strength, direction }: BestResponse,
  sums: Float32Array,
  { frame, blocks, inverse, sign, code }: Offered,
): void {
  const { columns, rows } = frame
  for (let row = responsePad; row < rows - responsePad; row++) {
    const blockRow = blocks.rowOf(row) * blocks.across
    const end = (row + 1) * columns - responsePad
    let i = row * columns + responsePad
    for (let block = 0; i < end; block++) {
      const times = sign * inverse[blockRow + block]!
      const stop = Math.min(end, row * columns + blocks.endOf(block))
      for (; i < stop; i++) {
        const value = sums[i]! * times
        if (value > strength[i]!) {
          strength[i] = value
          direction[i] = code
        }
      }
    }
  }
}
