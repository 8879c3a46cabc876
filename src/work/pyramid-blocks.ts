import { readSync, writeSync } from 'node:fs'
import type { Progress } from '#contract'

/**
 * Values on a grid at every scale, in one file of float32 (little-endian, NaN for none): level 0 is the grid, each further level its
 * half, until one block holds it. A level is blocks of 256 x 256, row by row, those at the right and lower edge filled up with NaN.
 */
export interface BlockLevel {
  readonly columns: number
  readonly rows: number
  readonly across: number
  readonly down: number
  /** Where the level begins in the file, bytes. */
  readonly at: number
}

export const blockSide = 256
const blockValues = blockSide * blockSide
const blockBytes = 4 * blockValues

/** The levels of a grid, finest first, and how long the file is. Faults: RangeError for a grid without cells. */
export function blockLevels(columns: number, rows: number): { levels: BlockLevel[]; bytes: number } {
  if (!(Number.isInteger(columns) && Number.isInteger(rows) && columns > 0 && rows > 0))
    throw new RangeError(`a grid needs whole columns and rows, got ${columns} x ${rows}`)
  const levels: BlockLevel[] = []
  let at = 0
  for (let [c, r] = [columns, rows]; ; [c, r] = [Math.ceil(c / 2), Math.ceil(r / 2)]) {
    const [across, down] = [Math.ceil(c / blockSide), Math.ceil(r / blockSide)]
    levels.push({ columns: c, rows: r, across, down, at })
    at += across * down * blockBytes
    if (across * down === 1) return { levels, bytes: at }
  }
}

const bytesOf = (values: Float32Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength)

function readAll(fd: number, into: Uint8Array, from: number): void {
  let done = 0
  while (done < into.length) {
    const got = readSync(fd, into, done, into.length - done, from + done)
    if (got === 0) throw new Error('the file of heights ends early')
    done += got
  }
}

function writeAll(fd: number, bytes: Uint8Array, at: number): void {
  let done = 0
  while (done < bytes.length) done += writeSync(fd, bytes, done, bytes.length - done, at + done)
}

/**
 * Writes up to 256 whole rows of a level, the first being that of the row of blocks `down`. `values` are the rows one after another.
 * Faults: RangeError where the rows are not those of the row of blocks.
 */
export function writeBlockRow(fd: number, level: BlockLevel, down: number, values: Float32Array): void {
  const rows = Math.min(blockSide, level.rows - down * blockSide)
  if (values.length !== rows * level.columns)
    throw new RangeError(`${rows} rows of ${level.columns} values are wanted, got ${values.length} values`)
  const all = new Float32Array(level.across * blockValues).fill(Number.NaN)
  for (let across = 0; across < level.across; across++) {
    const left = across * blockSide
    const width = Math.min(blockSide, level.columns - left)
    for (let row = 0; row < rows; row++) {
      const from = row * level.columns + left
      all.set(values.subarray(from, from + width), across * blockValues + row * blockSide)
    }
  }
  writeAll(fd, bytesOf(all), level.at + down * level.across * blockBytes)
}

export interface Window {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** The values in a window of a level, which may reach beyond it: NaN there. Cost: reads the blocks that the window meets. */
export function readBlocks(
  fd: number,
  level: BlockLevel,
  { left, top, width, height }: Window,
): Float32Array {
  const out = new Float32Array(width * height).fill(Number.NaN)
  const block = new Float32Array(blockValues)
  const first = (from: number): number => Math.max(0, Math.floor(from / blockSide))
  const end = (to: number, length: number): number => Math.ceil(Math.min(to, length) / blockSide)
  for (let down = first(top); down < end(top + height, level.rows); down++) {
    for (let across = first(left); across < end(left + width, level.columns); across++) {
      readAll(fd, bytesOf(block), level.at + (down * level.across + across) * blockBytes)
      const [x0, y0] = [across * blockSide, down * blockSide]
      const from = Math.max(left, x0)
      const to = Math.min(left + width, x0 + blockSide, level.columns)
      const last = Math.min(top + height, y0 + blockSide, level.rows)
      for (let y = Math.max(top, y0); y < last; y++) {
        const at = (y - y0) * blockSide
        out.set(block.subarray(at + from - x0, at + to - x0), (y - top) * width + from - left)
      }
    }
  }
  return out
}

/** Mean of each 2 x 2 values, of those that are there; NaN where none is. */
function halved(values: Float32Array, columns: number, rows: number): Float32Array {
  const [wide, high] = [Math.ceil(columns / 2), Math.ceil(rows / 2)]
  const out = new Float32Array(wide * high)
  for (let y = 0; y < high; y++) {
    const above = 2 * y * columns
    const below = 2 * y + 1 < rows ? above + columns : above
    for (let x = 0; x < wide; x++) {
      const left = 2 * x
      const right = left + 1 < columns ? left + 1 : left
      const [a, b, c, d] = [
        values[above + left]!,
        values[above + right]!,
        values[below + left]!,
        values[below + right]!,
      ]
      const sum = a + b + c + d
      out[y * wide + x] = Number.isNaN(sum) ? meanOf(a, b, c, d) : sum / 4
    }
  }
  return out
}

function meanOf(...values: readonly number[]): number {
  let [sum, n] = [0, 0]
  for (const value of values) {
    if (Number.isNaN(value)) continue
    sum += value
    n++
  }
  return n > 0 ? sum / n : Number.NaN
}

/** Fills the levels above the finest from it. Cost: reads it once; memory: 512 rows. */
export function writeUpperLevels(
  fd: number,
  levels: readonly BlockLevel[],
  progress: Progress,
  label: string,
): void {
  const all = levels.slice(1).reduce((sum, level) => sum + level.across * level.down, 0)
  let done = 0
  for (const [below, level] of levels.slice(1).entries()) {
    const finer = levels[below]!
    for (let down = 0; down < level.down; down++) {
      const top = 2 * down * blockSide
      const height = Math.min(2 * blockSide, finer.rows - top)
      const values = readBlocks(fd, finer, { left: 0, top, width: finer.columns, height })
      writeBlockRow(fd, level, down, halved(values, finer.columns, height))
      done += level.across
      progress(done / all, label)
    }
  }
}
