import { arctangent } from './arctangent.ts'
import {
  blankMissing,
  castRays,
  type HorizonOptions,
  type Path,
  rowStart,
  surroundingsOf,
} from './horizon.ts'
import { checkRows, type Terrain } from './terrain.ts'

export interface OpennessOptions extends HorizonOptions {
  /** `up`: how open the ground lies above (high on ridges); `down`: how open below (high in hollows). */
  readonly towards: 'up' | 'down'
}

const bandRows = 256
const degrees = 180 / Math.PI

/**
 * Openness of the rows from `rowFrom` up to `rowTo`, degrees: 90 on level ground and on an even slope; NaN where there is no height
 * and where no cell with a height is in reach.
 *
 * Method  mean over the directions of the angle from straight up to the highest cell in sight, or from straight down to the lowest,
 *         which may pass 90 (Yokoyama, Shirasawa and Pike 2002, "Visualizing topography by openness", Photogrammetric
 *         Engineering and Remote Sensing 68). The cells are those of `castRays`. A direction in which the raster ends at once, or
 *         no cell has a height, is left out of the mean.
 * Cost    about 1 ns a cell, direction and cell of radius, and 4 ns a cell and direction; memory for 256 rows and the radius.
 * Faults  RangeError as `castRays` and `checkRows`.
 */
export function opennessRows(
  terrain: Terrain,
  options: OpennessOptions,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  const fan = castRays(terrain, options)
  const { columns } = terrain
  const angles = new Float64Array(columns)
  const counted = new Int32Array(columns)
  for (let from = rowFrom; from < rowTo; from += bandRows) {
    const to = Math.min(rowTo, from + bandRows)
    // Looking down is looking up in the terrain turned over.
    const surroundings = surroundingsOf(terrain, fan, from, to, options.towards === 'up' ? 1 : -1, Number.NaN)
    for (let row = from; row < to; row++) {
      angles.fill(0)
      counted.fill(0)
      const start = rowStart(surroundings, row - from)
      for (const path of surroundings.paths) addAngles(surroundings.heights, start, path, angles, counted)
      const at = row * columns
      for (let c = 0; c < columns; c++) out[at + c] = 90 - (degrees * angles[c]!) / counted[c]!
      blankMissing(surroundings, row - from, options.edges, out.subarray(at, at + columns))
    }
  }
}

/** Openness of a whole terrain; see `opennessRows`. */
export function openness(terrain: Terrain, options: OpennessOptions): Float32Array {
  const out = new Float32Array(terrain.values.length)
  opennessRows(terrain, options, out, 0, terrain.rows)
  return out
}

/**
 * For each cell of one row adds, for a ray and for the opposite one, the angle of the steepest way up to a place on it, radians, which may be
 * below level, and counts it. A place beside a cell without a height hides nothing: a comparison with NaN is false. A ray with no other places
 * adds nothing.
 */
function addAngles(
  heights: Float32Array,
  start: number,
  { between, steps, steps2, perMetre, perMetre2 }: Path,
  sum: Float64Array,
  counted: Int32Array,
): void {
  const length = steps.length
  for (let c = 0; c < sum.length; c++) {
    const p = start + c
    const own = heights[p]!
    let ahead = Number.NEGATIVE_INFINITY
    let behind = Number.NEGATIVE_INFINITY
    for (let k = 0; k < length; k++) {
      const a = steps[k]!
      const u = perMetre[k]!
      let tangent = (heights[p + a]! - own) * u
      let opposite = (heights[p - a]! - own) * u
      if (between) {
        const b = steps2[k]!
        const v = perMetre2[k]!
        tangent += (heights[p + b]! - own) * v
        opposite += (heights[p - b]! - own) * v
      }
      if (tangent > ahead) ahead = tangent
      if (opposite > behind) behind = opposite
    }
    if (ahead > Number.NEGATIVE_INFINITY) addAngle(c, ahead, sum, counted)
    if (behind > Number.NEGATIVE_INFINITY) addAngle(c, behind, sum, counted)
  }
}

function addAngle(c: number, tangent: number, sum: Float64Array, counted: Int32Array): void {
  sum[c] = sum[c]! + (tangent < 0 ? -arctangent(-tangent) : arctangent(tangent))
  counted[c] = counted[c]! + 1
}
