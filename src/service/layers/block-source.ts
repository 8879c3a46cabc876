import { closeSync, openSync } from 'node:fs'
import { type BlockLevel, blockLevels, blockSide, type PictureLevel, readBlocks, type Window } from '#work'

/** Blocks of the finest level that statistics are taken from: a million cells, evenly spread. */
const sampledBlocks = 16

/** A file of blocks, open for reading: values at every scale. */
export class BlockSource {
  readonly columns: number
  readonly rows: number
  readonly levels: readonly (BlockLevel & PictureLevel)[]
  readonly #fd: number

  constructor(file: string, columns: number, rows: number) {
    this.columns = columns
    this.rows = rows
    this.levels = blockLevels(columns, rows).levels.map((level, i) => ({
      ...level,
      scaleX: 2 ** i,
      scaleY: 2 ** i,
    }))
    this.#fd = openSync(file, 'r')
  }

  /** NaN beyond the level. Cost: under a millisecond for a tile. */
  read(level: number, window: Window): Float32Array {
    return readBlocks(this.#fd, this.levels[level]!, window)
  }

  /** Windows of the finest level, spread evenly over it. */
  samples(): Window[] {
    const { across, down, columns, rows } = this.levels[0]!
    const step = Math.max(1, Math.sqrt((across * down) / sampledBlocks))
    const windows: Window[] = []
    for (let y = step / 2; y < down; y += step) {
      for (let x = step / 2; x < across; x += step) {
        const [left, top] = [Math.floor(x) * blockSide, Math.floor(y) * blockSide]
        const [width, height] = [Math.min(blockSide, columns - left), Math.min(blockSide, rows - top)]
        windows.push({ left, top, width, height })
      }
    }
    return windows
  }

  close(): void {
    closeSync(this.#fd)
  }
}

/** Values one after another. */
export function joined(parts: readonly Float32Array[]): Float32Array {
  const all = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}
