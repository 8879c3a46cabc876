import type { Raster } from '../candidate.ts'
import type { LevelWindow } from '../ground/levels.ts'
import { valueOfRank } from '../ground/rank.ts'

/** Values looked at for one median, at most. */
const mostSampled = 2000
/** Spread is taken over squares this wide, pixels, or this many sigmas, whichever is more. */
const squarePx = 64
const squareSigmas = 24

const halfSquare = (sigma: number): number => Math.ceil(Math.max(squarePx, squareSigmas * sigma) / 2)

/** How far beyond a place, pixels, the spread there looks. */
export const spreadReach = (sigma: number): number => Math.ceil(1.5 * halfSquare(sigma)) + 1

/** Spread of a response about every node of a grid that goes over the whole level evenly. */
export interface LocalSpread {
  /** At a pixel of the level. */
  at(row: number, column: number): number
}

/**
 * Standard deviation of a response about each place, by the median of absolute values (times 1.4826, as for a normal distribution): a few
 * blobs do not raise it. Local, because a ditch or hedge in the flattening's window makes the grain beside it look fine. Nodes
 * and the places about them are those of the level, whatever window the response is of; a node is measured when it is first asked for.
 *
 * @param response of the window, as `known` is; NaN in `known` where there is no data
 */
export function spreadsOf(
  response: Float32Array,
  known: Raster,
  sigma: number,
  window: LevelWindow,
  level: { readonly columns: number; readonly rows: number },
): LocalSpread {
  const half = halfSquare(sigma)
  const { columns, rows } = level
  const across = Math.ceil(columns / half)
  const down = Math.ceil(rows / half)
  const spreads = new Float64Array(across * down)
  const step = Math.ceil((2 * half) / Math.sqrt(mostSampled))
  const sizes = new Float64Array((Math.ceil((2 * half) / step) + 1) ** 2)
  const measured = (node: number): number => {
    const middleColumn = Math.round((((node % across) + 0.5) * columns) / across)
    const middleRow = Math.round(((Math.floor(node / across) + 0.5) * rows) / down)
    const [from, to] = [Math.max(0, middleColumn - half), Math.min(columns, middleColumn + half)]
    let count = 0
    for (let row = Math.max(0, middleRow - half); row < Math.min(rows, middleRow + half); row += step) {
      const start = (row - window.top) * window.columns - window.left
      for (let i = start + from; i < start + to; i += step)
        if (!Number.isNaN(known.values[i]!)) sizes[count++] = Math.abs(response[i]!)
    }
    const median = count === 0 ? 0 : valueOfRank(sizes.subarray(0, count), count >> 1)
    // Ground without any grain has a median of 0; a pit on it must still be one.
    return Math.max(1e-4, 1.4826 * median)
  }
  return {
    at: (row, column) => {
      const node = Math.floor((row * down) / rows) * across + Math.floor((column * across) / columns)
      const spread = spreads[node]! || measured(node)
      spreads[node] = spread
      return spread
    },
  }
}
