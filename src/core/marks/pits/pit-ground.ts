import { type LevelSource, sizeAt } from '../ground/levels.ts'

/** Rows that are read at once: what comes of the sums does not depend on who does them. */
const bandRows = 256

/** A thousandth of the standard deviation of all that is known at a level; 0 where all is the same or nothing known. Cost: one reading of the level. */
export function leastSpreadAt(source: LevelSource, level: number): number {
  const { columns, rows } = sizeAt(source, level)
  let [count, sum, squares] = [0, 0, 0]
  let first = Number.NaN
  for (let top = 0; top < rows; top += bandRows) {
    const band = { left: 0, top, columns, rows: Math.min(bandRows, rows - top) }
    for (const value of source.read(level, band).values) {
      if (Number.isNaN(value)) continue
      if (count === 0) first = value
      const off = value - first
      count++
      sum += off
      squares += off * off
    }
  }
  return count === 0 ? 0 : 1e-3 * Math.sqrt(Math.max(0, squares / count - (sum / count) ** 2))
}
