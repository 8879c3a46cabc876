import { quicklySmoothed } from '../ground/quickly-smoothed.ts'
import { scratch } from '../ground/scratch.ts'
import { type LineDirection, lineDirections, type SumSteps, sumReach, sumSteps } from './line-directions.ts'
import { inverseNoise, type NoiseBlocks } from './line-noise.ts'
import { type PaddedFrame, responsePad } from './padded-frame.ts'

/** Standard deviation of the Gaussian that lines are looked for with, pixels: those of some 1.5 to 5 pixels. A wider one found less on every ground tried. */
export const lineScale = 1.25
/** A second Gaussian, by which the width of a line is told. */
export const widerScale = 1.9

/** Weaker responses count as this: no point of a line is as weak, and most of what is beside one is stronger. */
const leastKept = 1

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
 * Cost    some 30 ns a pixel and direction on a busy machine.
 */
export function lineResponse(
  frame: PaddedFrame,
  blocks: NoiseBlocks,
  tones: { readonly light: boolean; readonly dark: boolean },
): LineResponse {
  const { columns, rows, values } = frame
  const empty = (): BestResponse => ({
    strength: new Float32Array(values.length).fill(leastKept),
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
    keepBest({ light, dark }, sums, own, code, frame, blocks)
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

/**
 * Minus the second derivative across a direction, summed along it: three neighbours, and seven such sums. The three steps are done row after row, so that what each
 * needs of the one before is still at hand in the processor's cache. What is beyond the region stays as it was.
 */
function summedAlong(
  seconds: Seconds,
  { columns, rows }: PaddedFrame,
  direction: LineDirection,
): Float32Array {
  const steps = sumSteps(direction, columns)
  const across = scratch(0, columns * rows)
  const short = scratch(1, columns * rows)
  const long = scratch(6, columns * rows)
  const far = responsePad - sumReach
  for (let row = far; row < rows - far; row++) {
    writeAcross(seconds, direction, across, row * columns + far, (row + 1) * columns - far)
    // `short` of a row needs the row beyond it, and `long` the ten rows beyond.
    const near = row - 1
    if (near <= far) continue
    writeShort(across, steps, short, near * columns + far + 1, (near + 1) * columns - far - 1)
    const middle = row - sumReach
    if (middle >= responsePad)
      writeLong(short, steps, long, middle * columns + responsePad, (middle + 1) * columns - responsePad)
  }
  return long
}

function writeAcross(
  { xx, yy, xy }: Seconds,
  { cos, sin }: LineDirection,
  out: Float32Array,
  from: number,
  to: number,
): void {
  const [a, b, c] = [sin * sin, cos * cos, -2 * sin * cos]
  for (let i = from; i < to; i++) out[i] = a * xx[i]! + b * yy[i]! + c * xy[i]!
}

function writeShort(
  across: Float32Array,
  { near, nearNext, share }: SumSteps,
  out: Float32Array,
  from: number,
  to: number,
): void {
  const rest = 1 - share
  for (let i = from; i < to; i++)
    out[i] =
      across[i]! +
      rest * (across[i + near]! + across[i - near]!) +
      share * (across[i + nearNext]! + across[i - nearNext]!)
}

function writeLong(
  short: Float32Array,
  { step, twice, thrice }: SumSteps,
  out: Float32Array,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i++)
    out[i] =
      short[i]! +
      short[i + step]! +
      short[i - step]! +
      short[i + twice]! +
      short[i - twice]! +
      short[i + thrice]! +
      short[i - thrice]!
}

/** Takes a direction over where it is better than all before it, light and dark at once. */
function keepBest(
  tones: Pick<LineResponse, 'light' | 'dark'>,
  sums: Float32Array,
  inverse: Float32Array,
  code: number,
  { columns, rows }: PaddedFrame,
  blocks: NoiseBlocks,
): void {
  for (let row = responsePad; row < rows - responsePad; row++) {
    const blockRow = blocks.rowOf(row) * blocks.across
    const end = (row + 1) * columns - responsePad
    let i = row * columns + responsePad
    for (let block = 0; i < end; block++) {
      const stop = Math.min(end, row * columns + blocks.endOf(block))
      keepGreater(tones, sums, inverse[blockRow + block]!, code, i, stop)
      i = stop
    }
  }
}

function keepGreater(
  { light, dark }: Pick<LineResponse, 'light' | 'dark'>,
  sums: Float32Array,
  times: number,
  code: number,
  from: number,
  to: number,
): void {
  const lightest = light?.strength
  const darkest = dark?.strength
  for (let i = from; i < to; i++) {
    const value = sums[i]! * times
    if (value >= leastKept) {
      if (lightest === undefined || value <= lightest[i]!) continue
      lightest[i] = value
      light!.direction[i] = code
    } else if (value <= -leastKept) {
      if (darkest === undefined || -value <= darkest[i]!) continue
      darkest[i] = -value
      dark!.direction[i] = code
    }
  }
}
