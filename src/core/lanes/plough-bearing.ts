/** The bearing that the texture of an image runs along. */
export interface PloughBearing {
  /** Degrees from the image's north, 0 up to 180; NaN where the image has no texture at all. */
  readonly bearing: number
  /** Share of the texture that runs one way: 0 none, 1 all of it. Noise lowers it without turning the bearing. */
  readonly coherence: number
  /** One less the chance that the parts of an image without any direction agree as well as these do. */
  readonly confidence: number
}

/** A chip of a raster: row 0 is the northernmost; NaN where it has no value. Cells are square. */
export interface TextureChip {
  readonly columns: number
  readonly rows: number
  readonly cells: Float32Array
}

/** Blocks along each side that are asked on their own for their direction. */
const blocks = 4
/** Fewer cells along a side than this show no direction. */
const fewest = 16

/**
 * The bearing of plough lines, tramlines or any other parallel texture in a chip of an image or terrain model.
 *
 * Method  structure tensor: the sums of gx^2, gx gy, gy^2 over the chip; lines run across the direction in which the gradient is
 *         strongest, 1/2 atan2(2 Jxy, Jxx - Jyy). Each of 4 x 4 blocks is asked as well, and the confidence is that of Rayleigh's test on
 *         their n doubled angles, 1 - exp(-n R^2), R the length of their mean.
 * Source  Bigun and Granlund 1987, "Optimal orientation detection of linear symmetry", First Int. Conf. on Computer Vision; Mardia and Jupp 2000,
 *         Directional Statistics, section 6.3; docs/methods/lanes.md#plough-lines
 * Limits  the strongest texture wins, whatever made it: cut the chip so that no hedge or track is in it.
 * Cost    one pass over the cells.
 * Faults  RangeError where the cells are not columns x rows, or fewer than 16 along a side.
 */
export function ploughBearing({ columns, rows, cells }: TextureChip): PloughBearing {
  if (cells.length !== columns * rows)
    throw new RangeError(`${cells.length} cells are not ${columns} x ${rows}`)
  if (!(columns >= fewest && rows >= fewest))
    throw new RangeError(`a texture needs ${fewest} x ${fewest} cells, got ${columns} x ${rows}`)
  // Jxx, Jxy, Jyy of each block.
  const sums = new Float64Array(3 * blocks * blocks)
  for (let r = 1; r + 1 < rows; r++) {
    const blockRow = Math.floor((r * blocks) / rows) * blocks
    for (let c = 1; c + 1 < columns; c++) {
      const i = r * columns + c
      // Sobel's differences: three rows together are steadier than one.
      const north = i - columns
      const south = i + columns
      const east = cells[north + 1]! + 2 * cells[i + 1]! + cells[south + 1]!
      const west = cells[north - 1]! + 2 * cells[i - 1]! + cells[south - 1]!
      const gx = east - west
      const gy =
        cells[north - 1]! +
        2 * cells[north]! +
        cells[north + 1]! -
        (cells[south - 1]! + 2 * cells[south]! + cells[south + 1]!)
      const square = gx * gx + gy * gy
      if (!Number.isFinite(square)) continue
      const at = 3 * (blockRow + Math.floor((c * blocks) / columns))
      sums[at]! += gx * gx
      sums[at + 1]! += gx * gy
      sums[at + 2]! += gy * gy
    }
  }
  let [xx, xy, yy] = [0, 0, 0]
  let [n, cosines, sines] = [0, 0, 0]
  for (let at = 0; at < sums.length; at += 3) {
    const [bxx, bxy, byy] = [sums[at]!, sums[at + 1]!, sums[at + 2]!]
    xx += bxx
    xy += bxy
    yy += byy
    const strength = Math.sqrt((bxx - byy) ** 2 + 4 * bxy * bxy)
    if (!(strength > 0)) continue
    n++
    cosines += (bxx - byy) / strength
    sines += (2 * bxy) / strength
  }
  if (!(xx + yy > 0) || n === 0) return { bearing: Number.NaN, coherence: 0, confidence: 0 }
  const coherence = Math.sqrt((xx - yy) ** 2 + 4 * xy * xy) / (xx + yy)
  const gradient = (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI
  // The gradient lies `gradient` degrees counter-clockwise of east; the lines run across it, 90 - (gradient + 90) from north.
  const bearing = ((-gradient % 180) + 180) % 180
  const square = (cosines * cosines + sines * sines) / n
  return { bearing, coherence, confidence: 1 - Math.exp(-square) }
}
