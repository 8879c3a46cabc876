/**
 * Heights on a regular grid: row 0 is the northernmost, column 0 the westernmost; cell (row, column) is
 * `row * columns + column`. All in metres of one planar grid. The values may stand on shared memory.
 */
export interface Terrain {
  readonly columns: number
  readonly rows: number
  /** Width of a cell, west to east, metres. */
  readonly cellX: number
  /** Height of a cell, north to south, metres, above zero. */
  readonly cellY: number
  /** Heights, metres; NaN where there is none. */
  readonly values: Float32Array
}

/**
 * What to do where a sum wants heights that are not there. `fill` gives every cell that has a height an answer from what
 * there is; `leave` gives NaN (0 in bytes) wherever a cell in reach is missing, whether outside the raster or without a height.
 */
export type Edges = 'fill' | 'leave'

/** Columns and rows that a view looks beyond a cell: the margin that makes a part give what the whole gives. */
export interface Reach {
  readonly columns: number
  readonly rows: number
}

/** Faults: RangeError where the size, the cells or the rows asked for make no sense, or `out` has another size. */
export function checkRows(
  { columns, rows, cellX, cellY, values }: Terrain,
  out: { readonly length: number },
  rowFrom: number,
  rowTo: number,
): void {
  if (!(Number.isInteger(columns) && Number.isInteger(rows) && columns > 0 && rows > 0))
    throw new RangeError(`a terrain needs whole columns and rows, got ${columns} x ${rows}`)
  if (!(cellX > 0 && cellY > 0 && Number.isFinite(cellX * cellY)))
    throw new RangeError(`cells must be above 0 m, got ${cellX} x ${cellY}`)
  if (values.length !== columns * rows)
    throw new RangeError(`${columns} x ${rows} cells, but ${values.length} heights`)
  if (out.length !== values.length)
    throw new RangeError(`${values.length} heights, but room for ${out.length} results`)
  if (!(rowFrom >= 0 && rowFrom <= rowTo && rowTo <= rows))
    throw new RangeError(`no rows ${rowFrom} to ${rowTo} among ${rows}`)
}

/** Whether any height from row `rowFrom` up to `rowTo` is missing; rows beyond the raster are not looked at. */
export function hasMissing({ columns, rows, values }: Terrain, rowFrom: number, rowTo: number): boolean {
  const from = Math.max(0, rowFrom) * columns
  const end = Math.min(rows, rowTo) * columns
  // One NaN makes the sum NaN; four sums so that the additions need not wait for each other.
  let a = 0
  let b = 0
  let c = 0
  let d = 0
  let p = from
  for (; p + 3 < end; p += 4) {
    a += values[p]!
    b += values[p + 1]!
    c += values[p + 2]!
    d += values[p + 3]!
  }
  for (; p < end; p++) a += values[p]!
  return Number.isNaN(a + b + c + d)
}
