import { closeSync, openSync } from 'node:fs'
import { blockLevels, blockSide, writeBlockRow, writeUpperLevels } from '#work'

/** A bank across a slope, with a hole: heights of a column and row, metres. */
export function bankHeight(column: number, row: number): number {
  if (column >= 40 && column < 44 && row >= 30 && row < 33) return Number.NaN
  return (
    20 + 0.05 * row + 0.8 * Math.exp(-(((column + 0.3 * row - 200) / 6) ** 2)) + 0.02 * Math.sin(column * 3.1)
  )
}

/** Writes heights as a file of blocks with all levels. */
export function writeHeights(file: string, columns: number, rows: number, height = bankHeight): Float32Array {
  const all = Float32Array.from({ length: columns * rows }, (_, i) =>
    height(i % columns, Math.floor(i / columns)),
  )
  const { levels } = blockLevels(columns, rows)
  const fd = openSync(file, 'w+')
  for (let down = 0; down < levels[0]!.down; down++) {
    const from = down * blockSide * columns
    writeBlockRow(fd, levels[0]!, down, all.subarray(from, Math.min(all.length, from + blockSide * columns)))
  }
  writeUpperLevels(fd, levels, () => {}, '')
  closeSync(fd)
  return all
}
