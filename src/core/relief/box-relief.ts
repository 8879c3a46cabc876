import { checkRows, type Edges, hasMissing, type Reach, type Terrain } from './terrain.ts'

export interface LocalReliefOptions {
  /** How far the smoothing looks, metres; see the shape. At least half a cell. */
  readonly radiusM: number
  readonly edges: Edges
}

/** Cells from the middle of the window to its edge: the whole number nearest to the radius. Faults: RangeError below one cell. */
export function boxReach({ cellX, cellY }: Terrain, radiusM: number): Reach {
  const reach = { columns: Math.round(radiusM / cellX), rows: Math.round(radiusM / cellY) }
  if (!(reach.columns > 0 && reach.rows > 0 && Number.isFinite(radiusM)))
    throw new RangeError(`a radius of ${radiusM} m does not reach the next cell of ${cellX} x ${cellY} m`)
  return reach
}

/** The window over one row: sums down each column, and heights counted where some may be missing. */
interface ColumnSums {
  /** Column c stands at `margin + c`, with zeros on either side. */
  readonly margin: number
  readonly sum: Float64Array
  /** Null where no height is missing. */
  readonly count: Int32Array | null
}

/**
 * Height above the mean of a rectangle about each cell, the rows from `rowFrom` up to `rowTo`: the rectangle reaches `radiusM` to each
 * side (a whole number of cells, so 2 k + 1 across), metres; NaN where there is no height.
 *
 * Method  terrain less its smoothed self (Hesse 2010, Archaeological Prospection 17). Where heights are missing or the raster ends
 *         the mean is over the heights that are there (normalised convolution, Knutsson and Westin 1993). Running sums in
 *         double precision, which heights of one region do not round in, so parts give exactly what the whole gives.
 * Cost    about 3 ns a cell whatever the radius, twice that where heights are missing, and the radius in rows once a call.
 * Faults  RangeError for a radius below half a cell, and as `checkRows`.
 */
export function boxReliefRows(
  terrain: Terrain,
  { radiusM, edges }: LocalReliefOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const { columns, rows } = terrain
  const reach = boxReach(terrain, radiusM)
  const missing = hasMissing(terrain, rowFrom - reach.rows, rowTo + reach.rows)
  const size = columns + 2 * reach.columns + 1
  const sums: ColumnSums = {
    margin: reach.columns + 1,
    sum: new Float64Array(size),
    count: missing ? new Int32Array(size) : null,
  }
  const top = Math.max(0, rowFrom - reach.rows)
  for (let r = top; r < Math.min(rows, rowFrom + reach.rows); r++) exchangeRow(terrain, sums, r, -1)
  const least = edges === 'leave' ? (2 * reach.columns + 1) * (2 * reach.rows + 1) : 1
  for (let row = rowFrom; row < rowTo; row++) {
    const leaving = row - reach.rows - 1
    exchangeRow(terrain, sums, row + reach.rows < rows ? row + reach.rows : -1, leaving >= top ? leaving : -1)
    const high = Math.min(rows, row + reach.rows + 1) - Math.max(0, row - reach.rows)
    if (sums.count === null) wholeRow(terrain, sums, row, reach.columns, high, least, out)
    else brokenRow(terrain, sums, sums.count, row, reach.columns, least, out)
  }
}

/** Adds a row to the sums and takes another away; -1 for none. */
function exchangeRow(
  { columns, values }: Terrain,
  { margin, sum, count }: ColumnSums,
  entering: number,
  leaving: number,
): void {
  const a = entering * columns
  const b = leaving * columns
  if (count === null && entering >= 0 && leaving >= 0) {
    for (let c = 0; c < columns; c++) sum[margin + c] = sum[margin + c]! + (values[a + c]! - values[b + c]!)
    return
  }
  for (const [row, at, sign] of [
    [entering, a, 1],
    [leaving, b, -1],
  ] as const) {
    if (row < 0) continue
    for (let c = 0; c < columns; c++) {
      const height = values[at + c]!
      if (Number.isNaN(height)) continue
      sum[margin + c] = sum[margin + c]! + sign * height
      if (count !== null) count[margin + c] = count[margin + c]! + sign
    }
  }
}

/** One row where every height is there: the number of cells in the window follows from where it stands. */
function wholeRow(
  { columns, values }: Terrain,
  { margin, sum }: ColumnSums,
  row: number,
  reach: number,
  high: number,
  least: number,
  out: Float32Array,
): void {
  const at = row * columns
  const ahead = margin + reach
  const cells = (c: number): number => high * (Math.min(columns, c + reach + 1) - Math.max(0, c - reach))
  const full = high * (2 * reach + 1)
  const inner = Math.min(reach, columns)
  const outer = Math.max(inner, columns - reach)
  let total = 0
  for (let c = 0; c < inner; c++) total += sum[margin + c]!
  for (let c = 0; c < inner; c++) {
    total += sum[ahead + c]! - sum[c]!
    out[at + c] = cells(c) < least ? Number.NaN : values[at + c]! - total / cells(c)
  }
  const share = full < least ? Number.NaN : 1 / full
  for (let c = inner; c < outer; c++) {
    total += sum[ahead + c]! - sum[c]!
    out[at + c] = values[at + c]! - total * share
  }
  for (let c = outer; c < columns; c++) {
    total += sum[ahead + c]! - sum[c]!
    out[at + c] = cells(c) < least ? Number.NaN : values[at + c]! - total / cells(c)
  }
}

function brokenRow(
  { columns, values }: Terrain,
  { margin, sum }: ColumnSums,
  count: Int32Array,
  row: number,
  reach: number,
  least: number,
  out: Float32Array,
): void {
  const at = row * columns
  let total = 0
  let there = 0
  for (let c = 0; c < Math.min(reach, columns); c++) {
    total += sum[margin + c]!
    there += count[margin + c]!
  }
  for (let c = 0; c < columns; c++) {
    total += sum[margin + c + reach]! - sum[c]!
    there += count[margin + c + reach]! - count[c]!
    out[at + c] = there < least ? Number.NaN : values[at + c]! - total / there
  }
}

/** Height of a whole terrain above the mean of a rectangle about each cell; see `boxReliefRows`. */
export function boxRelief(terrain: Terrain, options: LocalReliefOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  boxReliefRows(terrain, options, out, 0, terrain.rows)
  return out
}
