import { arctangent } from './arctangent.ts'
import { fillGradientRow, gradientRow } from './gradient-row.ts'
import { checkRows, type Edges, type Terrain } from './terrain.ts'

export interface SlopeOptions {
  readonly unit: 'degrees' | 'percent'
  /** Heights are multiplied by this. */
  readonly zFactor: number
  readonly edges: Edges
}

export interface AspectOptions {
  readonly edges: Edges
}

const degrees = 180 / Math.PI

/**
 * Steepness of the rows from `rowFrom` up to `rowTo`: the angle of the ground, 0 to 90 degrees, or 100 times its tangent.
 * NaN where there is no height.
 *
 * Method  gradient by Horn 1981 (see `fillGradientRow`). Angles within 6e-8 degrees of the arctangent.
 * Cost    about 6 ns a cell; memory for one row. Rows of different calls do not meet: threads may share `out`.
 * Faults  RangeError as `checkRows`.
 */
export function slopeRows(
  terrain: Terrain,
  { unit, zFactor, edges }: SlopeOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const { columns } = terrain
  const gradient = gradientRow(terrain)
  const { east, north } = gradient
  for (let row = rowFrom; row < rowTo; row++) {
    fillGradientRow(terrain, row, zFactor, edges, gradient)
    const at = row * columns
    if (unit === 'percent') {
      for (let c = 0; c < columns; c++)
        out[at + c] = 100 * Math.sqrt(east[c]! * east[c]! + north[c]! * north[c]!)
    } else {
      for (let c = 0; c < columns; c++)
        out[at + c] = degrees * arctangent(Math.sqrt(east[c]! * east[c]! + north[c]! * north[c]!))
    }
  }
}

/**
 * The way the ground faces, of the rows from `rowFrom` up to `rowTo`: bearing of the steepest way down, degrees clockwise
 * from grid north, 0 up to 360. NaN where there is no height and on level ground, which faces nowhere.
 *
 * Method, cost and faults as `slopeRows`.
 */
export function aspectRows(
  terrain: Terrain,
  { edges }: AspectOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const { columns } = terrain
  const gradient = gradientRow(terrain)
  const { east, north } = gradient
  for (let row = rowFrom; row < rowTo; row++) {
    fillGradientRow(terrain, row, 1, edges, gradient)
    for (let c = 0, p = row * columns; c < columns; c++, p++) out[p] = bearing(-east[c]!, -north[c]!)
  }
}

/** Degrees clockwise from north of a way that leads so far east and so far north; NaN for no way. */
function bearing(east: number, north: number): number {
  // 0 / 0 where both are zero: NaN, as wanted.
  const turn = degrees * arctangent(Math.abs(east) / Math.abs(north))
  const quarter = north < 0 ? 180 - turn : turn
  if (east >= 0) return quarter
  // As a Float32 a bearing just short of 360 may be 360.
  return quarter < 1.6e-5 ? 0 : 360 - quarter
}

/** Steepness of a whole terrain; see `slopeRows`. */
export function slope(terrain: Terrain, options: SlopeOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  slopeRows(terrain, options, out, 0, terrain.rows)
  return out
}

/** The way the ground of a whole terrain faces; see `aspectRows`. */
export function aspect(terrain: Terrain, options: AspectOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  aspectRows(terrain, options, out, 0, terrain.rows)
  return out
}
