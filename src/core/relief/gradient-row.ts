import type { Edges, Terrain } from './terrain.ts'

/** Steepness of one row of cells, metres of height a metre: towards east and towards north. NaN where there is none. */
export interface GradientRow {
  readonly east: Float64Array
  readonly north: Float64Array
}

export function gradientRow({ columns }: Terrain): GradientRow {
  return { east: new Float64Array(columns), north: new Float64Array(columns) }
}

/**
 * Fills the gradient of row `row` by the third-order finite difference with weights 1 2 1 (Horn 1981, "Hill shading and the
 * reflectance map", Proc. IEEE 69, eqs. for p and q). Heights are multiplied by `zFactor`.
 *
 * Edges   `fill`: a neighbour beyond the raster is carried on in a straight line from the cell at the edge and the one behind it
 *         (in the first and last row only northwards and southwards); a neighbour without a height is taken as high as the cell
 *         itself. These are GDAL's rules for `-compute_edges` (3.6.2). `leave`: NaN unless all eight neighbours have heights.
 * Cost    three reads and some ten additions a cell; cells at edges and beside missing heights cost more.
 */
export function fillGradientRow(
  terrain: Terrain,
  row: number,
  zFactor: number,
  edges: Edges,
  { east, north }: GradientRow,
): void {
  const { columns, rows, values, cellX, cellY } = terrain
  const kx = zFactor / (8 * cellX)
  const ky = zFactor / (8 * cellY)
  const whole = row > 0 && row < rows - 1 && columns > 2
  const sound = whole && fillInner(values, columns, row, kx, ky, east, north)
  if (sound) {
    for (const column of [0, columns - 1]) fillByWindow(terrain, row, column, kx, ky, edges, east, north)
    return
  }
  for (let c = 0; c < columns; c++) {
    const inner = whole && c > 0 && c < columns - 1
    // A cell's own height is no part of its gradient, so it is looked at too.
    if (!inner || Number.isNaN(east[c]! + north[c]! + values[row * columns + c]!))
      fillByWindow(terrain, row, c, kx, ky, edges, east, north)
  }
}

/** The cells that have all neighbours inside the raster. False where some height in the three rows is missing. */
function fillInner(
  values: Float32Array,
  columns: number,
  row: number,
  kx: number,
  ky: number,
  east: Float64Array,
  north: Float64Array,
): boolean {
  const middle = row * columns
  const above = middle - columns
  const below = middle + columns
  // Of each column of three: the weighted sum, and north less south.
  let sumWest = values[above]! + 2 * values[middle]! + values[below]!
  let fallWest = values[above]! - values[below]!
  let sum = values[above + 1]! + 2 * values[middle + 1]! + values[below + 1]!
  let fall = values[above + 1]! - values[below + 1]!
  let all = sumWest + sum
  for (let c = 1; c < columns - 1; c++) {
    const a = values[above + c + 1]!
    const b = values[below + c + 1]!
    const sumEast = a + 2 * values[middle + c + 1]! + b
    const fallEast = a - b
    east[c] = (sumEast - sumWest) * kx
    north[c] = (fallWest + 2 * fall + fallEast) * ky
    all += sumEast
    sumWest = sum
    sum = sumEast
    fallWest = fall
    fall = fallEast
  }
  return !Number.isNaN(all)
}

const around = new Int8Array([-1, -1, -1, 0, -1, 1, 0, -1, 0, 1, 1, -1, 1, 0, 1, 1])
/** Weights of the eight neighbours in the order of `around`: eastwards and northwards. */
const eastWeights = [-1, 0, 1, -2, 2, -1, 0, 1]
const northWeights = [1, 2, 1, 0, 0, -1, -2, -1]

function fillByWindow(
  terrain: Terrain,
  row: number,
  column: number,
  kx: number,
  ky: number,
  edges: Edges,
  east: Float64Array,
  north: Float64Array,
): void {
  const own = terrain.values[row * terrain.columns + column]!
  let x = Number.isNaN(own) ? Number.NaN : 0
  let y = x
  for (let k = 0; k < 8; k++) {
    let height = neighbour(terrain, row, column, around[2 * k]!, around[2 * k + 1]!, edges)
    if (edges === 'fill' && Number.isNaN(height)) height = own
    x += eastWeights[k]! * height
    y += northWeights[k]! * height
  }
  // A weight of 0 times NaN is NaN: in `leave`, one missing neighbour is enough for both.
  east[column] = x * kx
  north[column] = y * ky
}

/** The height of a neighbour, or what stands for it beyond the raster; NaN for none. */
function neighbour(
  { columns, rows, values }: Terrain,
  row: number,
  column: number,
  down: number,
  right: number,
  edges: Edges,
): number {
  const r = row + down
  const c = column + right
  const outsideRow = r < 0 || r >= rows
  const outsideColumn = c < 0 || c >= columns
  if (!outsideRow && !outsideColumn) return values[r * columns + c]!
  if (edges === 'leave') return Number.NaN
  const onEdgeRow = row === 0 || row === rows - 1
  if (outsideRow || onEdgeRow) {
    const at = outsideColumn ? column : c
    if (!outsideRow) return values[r * columns + at]!
    return carriedOn(values, row * columns + at, rows > 1 ? (row - down) * columns + at : row * columns + at)
  }
  const at = r * columns + column
  return carriedOn(values, at, columns > 1 ? at - right : at)
}

/** The straight line from the height behind through the height at the edge, one cell on. */
const carriedOn = (values: Float32Array, edge: number, behind: number): number =>
  2 * values[edge]! - values[behind]!
