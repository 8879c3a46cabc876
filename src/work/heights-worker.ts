import { closeSync, openSync, statSync } from 'node:fs'
import path from 'node:path'
import type { Progress } from '#contract'
import type { FileFault } from '#core/faults'
import type { AscHeader } from '#formats/asc'
import { HeightsFile } from './heights-file.ts'
import { heightsOfAsc } from './heights-of-asc.ts'
import { heightsOfTiff } from './heights-of-tiff.ts'
import { serveProcess } from './process-side.ts'
import { blockLevels, blockSide, readBlocks } from './pyramid-blocks.ts'
import { fileHash } from './pyramid-hash.ts'

/** A terrain model to be made ready; its heights are written as `heights.0.f32` in `folder`. */
export interface HeightsInput {
  readonly task: 'read'
  readonly file: string
  readonly name: string
  readonly kind: 'tiff' | 'ascii-grid'
  readonly folder: string
}

export interface MadeHeights {
  readonly sha256: string
  /** Bytes. */
  readonly size: number
  readonly columns: number
  readonly rows: number
  /** Of an ASCII grid, what stands before its heights. */
  readonly header: AscHeader | null
  readonly faults: readonly FileFault[]
}

/** Heights that were made ready, and where their upper left cell lies in the whole. */
export interface HeightsPart {
  readonly heights: string
  readonly columns: number
  readonly rows: number
  readonly firstColumn: number
  readonly firstRow: number
}

export interface JoinInput {
  readonly task: 'join'
  readonly parts: readonly HeightsPart[]
  readonly columns: number
  readonly rows: number
  readonly folder: string
  readonly label: string
}

serveProcess<HeightsInput | JoinInput, MadeHeights | null>((input, progress) =>
  input.task === 'read' ? readHeights(input, progress) : joinHeights(input, progress),
)

const heightsFile = (folder: string): string => path.join(folder, 'heights.0.f32')
const hashing = 0.2

async function readHeights(
  { file, name, kind, folder }: HeightsInput,
  progress: Progress,
): Promise<MadeHeights> {
  const { size } = statSync(file)
  const told: Progress = (done, label) => progress(hashing + done * (1 - hashing), label)
  progress(0, `reading ${name}`)
  const sha256 = await fileHash(file)
  const out = heightsFile(folder)
  if (kind === 'tiff') {
    const read = heightsOfTiff({ file, name, out }, told)
    return { ...read, header: null, sha256, size }
  }
  const read = await heightsOfAsc({ file, name, size, out }, told)
  return { ...read, sha256, size }
}

/** Where parts overlap, the first that has a height gives it. Memory: 256 rows of the whole, a few times. */
async function joinHeights(
  { parts, columns, rows, folder, label }: JoinInput,
  progress: Progress,
): Promise<null> {
  const out = new HeightsFile(heightsFile(folder), columns, rows)
  const opened = parts.map((part) => ({
    ...part,
    fd: openSync(part.heights, 'r'),
    level: blockLevels(part.columns, part.rows).levels[0]!,
  }))
  try {
    for (let top = 0; top < rows; top += blockSide) {
      const height = Math.min(blockSide, rows - top)
      const all = new Float32Array(columns * height).fill(Number.NaN)
      for (const { fd, level, firstColumn, firstRow, ...size } of opened) {
        const from = Math.max(top, firstRow)
        const to = Math.min(top + height, firstRow + size.rows)
        if (from >= to) continue
        const window = { left: 0, top: from - firstRow, width: size.columns, height: to - from }
        const values = readBlocks(fd, level, window)
        for (let row = 0; row < window.height; row++) {
          const at = (from - top + row) * columns + firstColumn
          for (let i = 0; i < size.columns; i++) {
            if (Number.isNaN(all[at + i]!)) all[at + i] = values[row * size.columns + i]!
          }
        }
      }
      out.put(all)
      progress((0.8 * (top + height)) / rows, label)
    }
    out.finish((done) => progress(0.8 + 0.2 * done, label), label)
  } finally {
    out.close()
    for (const { fd } of opened) closeSync(fd)
  }
  return null
}
