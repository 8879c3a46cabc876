import { type PaddedFrame, responsePad } from './padded-frame.ts'

/** Squares in which the noise of a response is measured, pixels of the level; they lie the same way however the image is parted. */
export const noiseSide = 48

/** How a padded frame is parted into squares that are the same for the whole level. */
export interface NoiseBlocks {
  readonly across: number
  readonly down: number
  /** Which row of squares a row of the frame lies in. */
  rowOf(row: number): number
  /** Where, in columns of the frame, a square ends. */
  endOf(block: number): number
}

/** `left` and `top` are those of the region within the padding, in pixels of the level: corners of squares, so that one pixel in four is always the same one. */
export function noiseBlocks(left: number, top: number, columns: number, rows: number): NoiseBlocks {
  const [firstColumn, firstRow] = [Math.floor(left / noiseSide), Math.floor(top / noiseSide)]
  return {
    across: Math.ceil((left + columns) / noiseSide) - firstColumn,
    down: Math.ceil((top + rows) / noiseSide) - firstRow,
    rowOf: (row) => Math.floor((row - responsePad + top) / noiseSide) - firstRow,
    endOf: (block) => (firstColumn + block + 1) * noiseSide - left + responsePad,
  }
}

/** Responses of ground that is all but even count as no less noisy than this. */
const leastNoise = 0.05
/** A square with a smaller share of data tells nothing. */
const leastKnown = 0.25
/** Mean absolute deviation of a normal distribution is 0.7979 of its standard deviation. */
const absoluteToStandard = 1.2533

/**
 * One over the standard deviation of a response about each square: from mean absolute values (one pixel in four), the median of a square and the eight about
 * it, so that one line that crosses them is not taken for noise.
 */
export function inverseNoise(sums: Float32Array, frame: PaddedFrame, blocks: NoiseBlocks): Float32Array {
  const { columns, rows, values } = frame
  const { across, down } = blocks
  const total = new Float64Array(across * down)
  const count = new Int32Array(across * down)
  for (let row = responsePad; row < rows - responsePad; row += 2) {
    const at = blocks.rowOf(row) * across
    let column = responsePad
    for (let block = 0; block < across; block++) {
      const stop = Math.min(columns - responsePad, blocks.endOf(block))
      let [sum, known] = [0, 0]
      for (; column < stop; column += 2) {
        const i = row * columns + column
        if (values[i] === 0) continue
        sum += Math.abs(sums[i]!)
        known++
      }
      total[at + block]! += sum
      count[at + block]! += known
    }
  }
  const least = (leastKnown * noiseSide * noiseSide) / 4
  const means = total.map((sum, i) => (count[i]! >= least ? sum / count[i]! : Number.NaN))
  const out = new Float32Array(across * down)
  for (let row = 0; row < down; row++)
    for (let block = 0; block < across; block++)
      out[row * across + block] =
        1 / Math.max(leastNoise, absoluteToStandard * medianAbout(means, blocks, row, block))
  return out
}

/** 0 where none of the nine is known. */
function medianAbout(means: Float64Array, { across, down }: NoiseBlocks, row: number, block: number): number {
  const found: number[] = []
  for (let r = Math.max(0, row - 1); r <= Math.min(down - 1, row + 1); r++)
    for (let b = Math.max(0, block - 1); b <= Math.min(across - 1, block + 1); b++) {
      const mean = means[r * across + b]!
      if (!Number.isNaN(mean)) found.push(mean)
    }
  found.sort((a, b) => a - b)
  return found[found.length >> 1] ?? 0
}
