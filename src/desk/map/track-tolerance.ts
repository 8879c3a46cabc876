const levels = [0.05, 0.2, 0.8, 3.2, 12.8, 51.2] as const

/** How far a drawn track may stray, metres, at a scale: under a pixel, in steps of four so that few are fetched. */
export function trackTolerance(metresPerPixel: number): number {
  return levels.findLast((level) => level <= metresPerPixel) ?? levels[0]
}

/** Opacity of the tracks at a scale: full from near; from far, where lanes touch, faint enough to leave the cover legible. */
export function trackOpacity(metresPerPixel: number): number {
  const [near, far, faint] = [0.12, 0.6, 0.3]
  const share = Math.log(metresPerPixel / near) / Math.log(far / near)
  return 1 - (1 - faint) * Math.min(1, Math.max(0, share))
}

/**
 * A line cut into pieces of at most `most` pairs, each piece beginning where the one before ended; a NaN pair ends a piece.
 * Pieces out of sight then cost nothing. Interleaved pairs in and out. Cost: one copy of the line.
 */
export function linePieces(line: Float64Array, most = 2048): number[][] {
  const pieces: number[][] = []
  let piece: number[] = []
  const close = (): void => {
    if (piece.length >= 4) pieces.push(piece)
    piece = []
  }
  for (let i = 0; i + 1 < line.length; i += 2) {
    const [x, y] = [line[i]!, line[i + 1]!]
    if (Number.isNaN(x) || Number.isNaN(y)) {
      close()
      continue
    }
    piece.push(x, y)
    if (piece.length >= most * 2) {
      close()
      piece.push(x, y)
    }
  }
  close()
  return pieces
}
