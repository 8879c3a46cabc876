import type { TextureChip } from './texture-blocks.ts'

/** The bearing that the contours of some ground keep to. */
export interface ContourBearing {
  /** Degrees from the chip's north, 0 up to 180; NaN where the ground is level or too small to tell. */
  readonly bearing: number
  /** How far contours differ from it, weighted by slope: a circular standard deviation in degrees. */
  readonly spread: number
  /** Mean slope, degrees; NaN where there is none. */
  readonly slope: number
  /** Places that it was taken at. */
  readonly places: number
}

/**
 * The mean bearing of contours over ground whose heights are given, cells `cellM` metres apart.
 *
 * Method  at each cell with eight neighbours the contour runs across the gradient, by the differences of Horn 1981; its doubled angle is
 *         averaged with the slope as weight, so that both flanks of a ridge agree, and level ground, whose contours wander, counts for little (Mardia and
 *         Jupp 2000, Directional Statistics, 1.3 and 2.3).
 * Limits  cells must be wider than furrows, or the furrows are found.
 * Cost    one pass over the cells.
 * Source  docs/methods/lanes.md#contours
 * Faults  RangeError where the cells are not columns x rows.
 */
export function contourBearing({ columns, rows, cells }: TextureChip, cellM: number): ContourBearing {
  if (cells.length !== columns * rows)
    throw new RangeError(`${cells.length} cells are not ${columns} x ${rows}`)
  let [cosines, sines, all, places, slopes] = [0, 0, 0, 0, 0]
  for (let r = 1; r + 1 < rows; r++) {
    for (let c = 1; c + 1 < columns; c++) {
      const i = r * columns + c
      const [north, south] = [i - columns, i + columns]
      const [nw, ne, sw, se] = [cells[north - 1]!, cells[north + 1]!, cells[south - 1]!, cells[south + 1]!]
      const east = (ne + 2 * cells[i + 1]! + se - nw - 2 * cells[i - 1]! - sw) / (8 * cellM)
      const up = (nw + 2 * cells[north]! + ne - sw - 2 * cells[south]! - se) / (8 * cellM)
      const steepness = Math.sqrt(east * east + up * up)
      if (!Number.isFinite(steepness)) continue
      places++
      slopes += Math.atan(steepness)
      if (steepness === 0) continue
      all += steepness
      cosines += (east * east - up * up) / steepness
      sines += (2 * east * up) / steepness
    }
  }
  const slope = places > 0 ? (slopes / places) * (180 / Math.PI) : Number.NaN
  if (!(all > 0)) return { bearing: Number.NaN, spread: Infinity, slope, places }
  const resultant = Math.sqrt(cosines * cosines + sines * sines) / all
  // The gradient counts counter-clockwise from east; the contour runs across it.
  const gradient = (Math.atan2(sines, cosines) * 90) / Math.PI
  return { bearing: ((-gradient % 180) + 180) % 180, spread: axialSpread(resultant), slope, places }
}

/** Circular standard deviation of undirected bearings, degrees, from the mean resultant length of their doubled angles; Mardia and Jupp 2000, 2.3. */
function axialSpread(resultant: number): number {
  return resultant > 0 ? (Math.sqrt(-2 * Math.log(Math.min(1, resultant))) * 90) / Math.PI : Infinity
}
