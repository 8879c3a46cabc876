import { closeSync, mkdtempSync, openSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { Raster } from '#core/marks'
import { blockLevels, blockSide, writeBlockRow, writeUpperLevels } from '#work'

/** A scene in a file of blocks, as a layer of a survey is. */
export function onBlocks({ columns, rows, values }: Raster): {
  readonly blocks: string
  readonly end: () => void
} {
  const folder = mkdtempSync(path.join(tmpdir(), 'marks-bench-'))
  const blocks = path.join(folder, 'scene.f32')
  const { levels } = blockLevels(columns, rows)
  const fd = openSync(blocks, 'w+')
  for (let down = 0; down * blockSide < rows; down++)
    writeBlockRow(
      fd,
      levels[0]!,
      down,
      values.subarray(down * blockSide * columns, (down + 1) * blockSide * columns),
    )
  writeUpperLevels(fd, levels, () => {}, '')
  closeSync(fd)
  return { blocks, end: () => rmSync(folder, { recursive: true }) }
}
