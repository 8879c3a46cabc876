import {
  addSteepest,
  blankMissing,
  castRays,
  type HorizonOptions,
  rowStart,
  surroundingsOf,
} from './horizon.ts'
import { checkRows, type Terrain } from './terrain.ts'

/** Rows worked at a time, so that what is held beside the terrain stays small. */
const bandRows = 256

/**
 * Share of the sky that is seen from each cell of the rows from `rowFrom` up to `rowTo`: 1 on level ground and on tops, less in
 * ditches and beside banks; NaN where there is no height.
 *
 * Method  1 - mean of sin(horizon angle) over the directions, an angle below level counting as level (Zaksek, Ostir and Kokalj 2011,
 *         "Sky-view factor as a relief visualization technique", Remote Sensing 3, eq. 6). sin h = t / sqrt(1 + t^2), t the
 *         steepest tangent among the cells of `castRays`. Beyond the raster the sky is open.
 * Cost    about 1 ns a cell, direction and cell of radius; memory for 256 rows and the radius.
 * Faults  RangeError as `castRays` and `checkRows`.
 */
export function skyViewRows(
  terrain: Terrain,
  options: HorizonOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const fan = castRays(terrain, options)
  const { columns } = terrain
  const hidden = new Float64Array(columns)
  for (let from = rowFrom; from < rowTo; from += bandRows) {
    const to = Math.min(rowTo, from + bandRows)
    const surroundings = surroundingsOf(terrain, fan, from, to, 1)
    for (let row = from; row < to; row++) {
      hidden.fill(0)
      const start = rowStart(surroundings, row - from)
      for (const path of surroundings.paths) addSteepest(surroundings.heights, start, path, hidden, null)
      const at = row * columns
      for (let c = 0; c < columns; c++) out[at + c] = 1 - hidden[c]! / options.directions
      blankMissing(surroundings, row - from, options.edges, out.subarray(at, at + columns))
    }
  }
}

/** Share of the sky seen from each cell of a whole terrain; see `skyViewRows`. */
export function skyView(terrain: Terrain, options: HorizonOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  skyViewRows(terrain, options, out, 0, terrain.rows)
  return out
}
