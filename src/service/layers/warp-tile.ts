/** A piece of a picture at some scale: grey and alpha (2 channels) or red, green, blue and alpha (4), 8 bits each. */
export interface PaintedPiece {
  readonly columns: number
  readonly rows: number
  readonly channels: 2 | 4
  readonly pixels: Uint8Array | Uint8ClampedArray
}

/** Where the piece lies in the picture: pixels of the picture to one of the piece, and the piece's first pixel in its own pixels. */
export interface PiecePlace {
  readonly left: number
  readonly top: number
  readonly scaleX: number
  readonly scaleY: number
}

/**
 * Lays a piece of a picture onto a tile, bilinearly between the four pixels about each place; what has no alpha counts for
 * nothing. Outside the picture, and where a place is NaN, the tile is clear.
 *
 * Cost    about 20 ns a pixel.
 *
 * @param places column and row in the whole picture of each pixel of the tile, interleaved
 * @param picture size of the whole picture
 */
export function warpTile(
  piece: PaintedPiece,
  { left, top, scaleX, scaleY }: PiecePlace,
  places: Float64Array,
  picture: { readonly columns: number; readonly rows: number },
): Uint8Array {
  const { columns, rows, channels, pixels } = piece
  const out = new Uint8Array((places.length / 2) * channels)
  const alphaAt = channels - 1
  for (let i = 0, o = 0; i < places.length; i += 2, o += channels) {
    const column = places[i]!
    const row = places[i + 1]!
    if (!(column >= 0 && row >= 0 && column <= picture.columns && row <= picture.rows)) continue
    // From corners to centres: the first pixel of the piece has its centre at 0.
    const x = Math.min(columns - 1, Math.max(0, column / scaleX - left - 0.5))
    const y = Math.min(rows - 1, Math.max(0, row / scaleY - top - 0.5))
    const x0 = Math.min(columns - 1, Math.floor(x))
    const y0 = Math.min(rows - 1, Math.floor(y))
    const fx = x - x0
    const fy = y - y0
    const p00 = (y0 * columns + x0) * channels
    const p01 = x0 + 1 < columns ? p00 + channels : p00
    const down = y0 + 1 < rows ? columns * channels : 0
    const p10 = p00 + down
    const p11 = p01 + down
    const w00 = (1 - fx) * (1 - fy) * pixels[p00 + alphaAt]!
    const w01 = fx * (1 - fy) * pixels[p01 + alphaAt]!
    const w10 = (1 - fx) * fy * pixels[p10 + alphaAt]!
    const w11 = fx * fy * pixels[p11 + alphaAt]!
    const alpha = w00 + w01 + w10 + w11
    if (!(alpha >= 0.5)) continue
    for (let k = 0; k < alphaAt; k++) {
      const sum =
        w00 * pixels[p00 + k]! + w01 * pixels[p01 + k]! + w10 * pixels[p10 + k]! + w11 * pixels[p11 + k]!
      out[o + k] = sum / alpha + 0.5
    }
    out[o + alphaAt] = alpha + 0.5
  }
  return out
}
