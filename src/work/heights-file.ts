import { closeSync, openSync } from 'node:fs'
import type { Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { blockLevels, blockSide, writeBlockRow, writeUpperLevels } from './pyramid-blocks.ts'

/** Takes rows of heights from the top and writes them as a file of blocks, at every scale. Holds 256 rows, twice while they are written. */
export class HeightsFile {
  readonly #fd: number
  readonly #columns: number
  readonly #rows: number
  readonly #levels: ReturnType<typeof blockLevels>['levels']
  readonly #held: Float32Array
  #row = 0

  constructor(file: string, columns: number, rows: number) {
    this.#columns = columns
    this.#rows = rows
    this.#levels = blockLevels(columns, rows).levels
    this.#held = new Float32Array(columns * Math.min(rows, blockSide))
    this.#fd = openSync(file, 'w+')
  }

  /** Whole rows, one after another; those past the last are an error of the caller. */
  put(values: Float32Array): void {
    const columns = this.#columns
    let from = 0
    while (from < values.length) {
      const within = this.#row % blockSide
      const room = Math.min(blockSide, this.#rows - this.#row + within) - within
      const rows = Math.min(room, (values.length - from) / columns)
      if (!(rows >= 1)) throw new RangeError(`${this.#rows} rows of ${columns} heights, but more were given`)
      this.#held.set(values.subarray(from, from + rows * columns), within * columns)
      this.#row += rows
      from += rows * columns
      if (this.#row % blockSide === 0 || this.#row === this.#rows) this.#write()
    }
  }

  #write(): void {
    const down = Math.ceil(this.#row / blockSide) - 1
    const rows = this.#row - down * blockSide
    diskFaults(() =>
      writeBlockRow(this.#fd, this.#levels[0]!, down, this.#held.subarray(0, rows * this.#columns)),
    )
  }

  /** Fills up what was not given with nothing, and writes the coarser scales. */
  finish(progress: Progress, label: string): void {
    const empty = new Float32Array(this.#columns).fill(Number.NaN)
    while (this.#row < this.#rows) this.put(empty)
    diskFaults(() => writeUpperLevels(this.#fd, this.#levels, progress, label))
  }

  close(): void {
    closeSync(this.#fd)
  }
}

function diskFaults(write: () => void): void {
  try {
    write()
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOSPC') throw cause
    const sentence =
      'The heights could not be prepared: the disk that holds the survey is full. Make room and try again.'
    throw new SurveyError('disk-full', sentence, { cause })
  }
}
