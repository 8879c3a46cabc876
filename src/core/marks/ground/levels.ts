import type { Raster } from '../candidate.ts'

/** A raster at full size and at halves of it, of which windows can be read. Level `n` has pixels 2^n times as wide. */
export interface LevelSource {
  /** Of level 0. */
  readonly columns: number
  readonly rows: number
  /** A window in pixels of the level; NaN beyond the raster and where there is no data. */
  read(level: number, window: LevelWindow): Raster
}

export interface LevelWindow {
  readonly left: number
  readonly top: number
  readonly columns: number
  readonly rows: number
}

export function sizeAt(
  { columns, rows }: { readonly columns: number; readonly rows: number },
  level: number,
) {
  return { columns: Math.ceil(columns / 2 ** level), rows: Math.ceil(rows / 2 ** level) }
}

/** Half the size: means of four pixels, or of those that have data. */
export function halved(raster: Raster): Raster {
  const half = sizeAt(raster, 1)
  const out = new Float32Array(half.columns * half.rows)
  for (let row = 0; row < half.rows; row++) halvedRow(raster, row, out, half.columns)
  return { ...half, values: out }
}

function halvedRow({ columns, rows, values }: Raster, row: number, out: Float32Array, half: number): void {
  const upper = 2 * row * columns
  const lower = Math.min(rows - 1, 2 * row + 1) * columns
  for (let column = 0; column < half; column++) {
    const a = 2 * column
    const b = Math.min(columns - 1, a + 1)
    const p = values[upper + a]!
    const q = values[upper + b]!
    const r = values[lower + a]!
    const s = values[lower + b]!
    const mean = (p + q + r + s) / 4
    out[row * half + column] = Number.isNaN(mean) ? meanOfKnown([p, q, r, s]) : mean
  }
}

function meanOfKnown(values: readonly number[]): number {
  const known = values.filter((value) => !Number.isNaN(value))
  return known.reduce((sum, value) => sum + value, 0) / known.length
}

/** Levels 0 to `deepest` of a raster held in memory: a third more than the raster itself. */
export function levelsOf(raster: Raster, deepest: number): LevelSource {
  const levels = [raster]
  for (let level = 1; level <= deepest; level++) levels.push(halved(levels[level - 1]!))
  return {
    columns: raster.columns,
    rows: raster.rows,
    read: (level, window) => windowOf(levels[level]!, window),
  }
}

export function windowOf(raster: Raster, { left, top, columns, rows }: LevelWindow): Raster {
  if (left === 0 && top === 0 && columns === raster.columns && rows === raster.rows) return raster
  const values = new Float32Array(columns * rows).fill(Number.NaN)
  const from = Math.max(0, left)
  const to = Math.min(raster.columns, left + columns)
  for (let row = Math.max(0, top); row < Math.min(raster.rows, top + rows); row++) {
    if (to <= from) break
    const at = row * raster.columns
    values.set(raster.values.subarray(at + from, at + to), (row - top) * columns + from - left)
  }
  return { columns, rows, values }
}
