import { halved, type LevelSource, windowOf } from '#core/marks'
import { blockLevels, readBlocks } from './pyramid-blocks.ts'

/** Reads windows of a file of blocks at any scale. Scales beyond the coarsest in the file are made from it; it fits in one block. */
export function blockLevelsSource(fd: number, columns: number, rows: number): LevelSource {
  const { levels } = blockLevels(columns, rows)
  const deepest = levels.length - 1
  const whole = () => {
    const { columns: width, rows: height } = levels[deepest]!
    return {
      columns: width,
      rows: height,
      values: readBlocks(fd, levels[deepest]!, { left: 0, top: 0, width, height }),
    }
  }
  return {
    columns,
    rows,
    read: (level, window) => {
      if (level <= deepest) {
        const { left, top, columns: width, rows: height } = window
        const values = readBlocks(fd, levels[level]!, { left, top, width, height })
        return { columns: width, rows: height, values }
      }
      let raster = whole()
      for (let at = deepest; at < level; at++) raster = halved(raster)
      return windowOf(raster, window)
    },
  }
}
