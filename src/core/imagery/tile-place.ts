/**
 * Where a tile lies over the overview that a view was prepared from. The tile is a window of a *level*: a grid of pixels over the whole
 * image whose upper left corner is that of the overview unless `left`, `top` say otherwise. Tiles of one level are painted from
 * the same numbers of the level's columns and rows, and so agree to the last bit.
 */
export interface TilePlace {
  /** The level's column and row of the tile's first pixel. */
  readonly column: number
  readonly row: number
  /** Overview pixels to a pixel of the level, across and down. */
  readonly stepX: number
  readonly stepY: number
  /** The level's upper left corner in pixels of the overview. */
  readonly left?: number
  readonly top?: number
}

/** For each column (or row) of a tile: the node before it, the node after, and how near it is to the latter, 0 to 1. */
export interface Between {
  readonly before: Int32Array
  readonly after: Int32Array
  readonly share: Float64Array
}

/**
 * Places a tile's columns (or rows) between nodes, `perNode` overview pixels apart, the first `firstAt` pixels from the overview's edge.
 * Beyond the first and last node their values are carried on.
 */
export function betweenNodes(
  count: number,
  first: number,
  step: number,
  shift: number,
  nodes: { readonly count: number; readonly firstAt: number; readonly perNode: number },
): Between {
  const before = new Int32Array(count)
  const after = new Int32Array(count)
  const share = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const at = (shift + (first + i + 0.5) * step - nodes.firstAt) / nodes.perNode
    const whole = Math.floor(at)
    before[i] = Math.max(0, Math.min(whole, nodes.count - 1))
    after[i] = Math.max(0, Math.min(whole + 1, nodes.count - 1))
    share[i] = at - whole
  }
  return { before, after, share }
}
