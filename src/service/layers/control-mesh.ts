/** Pairs to pairs; NaN where there is no answer. */
export type PairMap = (xy: Float64Array, out: Float64Array) => void

/** A square of the survey's grid, cut into `cells` x `cells`, with the source pixel at each node. */
export interface ControlMesh {
  readonly cells: number
  /** Column and row at each node, `cells + 1` nodes a row, the northernmost row first. */
  readonly nodes: Float64Array
}

export interface TileSquare {
  readonly west: number
  readonly north: number
  /** Side on the ground, metres, and in pixels. */
  readonly sideM: number
  readonly side: number
}

const fewest = 8

/**
 * Places a tile in its source by as few exact positions as keep every pixel within `tolerance` source pixels: a mesh of 8 x 8 cells, made
 * finer until the middle of every cell and of every cell's side, where a smooth map strays most, is met to a half of that.
 *
 * Cost    81 exact positions and 208 to check them, for the maps of one field; each doubling four times as many. At worst one a pixel.
 */
export function controlMesh(toPixels: PairMap, square: TileSquare, tolerance: number): ControlMesh {
  for (let cells = fewest; ; cells *= 2) {
    // Nodes of the finer mesh are the check of the coarser one.
    const finer = nodesOf(toPixels, square, 2 * cells)
    const nodes = everySecond(finer, 2 * cells)
    if (2 * cells >= square.side) return { cells: 2 * cells, nodes: finer }
    if (strays(finer, cells) <= tolerance / 2) return { cells, nodes }
  }
}

function nodesOf(toPixels: PairMap, { west, north, sideM }: TileSquare, cells: number): Float64Array {
  const nodes = new Float64Array(2 * (cells + 1) ** 2)
  for (let j = 0, p = 0; j <= cells; j++) {
    for (let i = 0; i <= cells; i++, p += 2) {
      nodes[p] = west + (i / cells) * sideM
      nodes[p + 1] = north - (j / cells) * sideM
    }
  }
  toPixels(nodes, nodes)
  return nodes
}

function everySecond(finer: Float64Array, finerCells: number): Float64Array {
  const cells = finerCells / 2
  const nodes = new Float64Array(2 * (cells + 1) ** 2)
  for (let j = 0, p = 0; j <= cells; j++) {
    for (let i = 0; i <= cells; i++, p += 2) {
      const q = 2 * (2 * j * (finerCells + 1) + 2 * i)
      nodes[p] = finer[q]!
      nodes[p + 1] = finer[q + 1]!
    }
  }
  return nodes
}

/** How far, in source pixels, the finer nodes lie from the means of the coarser ones about them; infinite where some of those are not there. */
function strays(finer: Float64Array, cells: number): number {
  const wide = 2 * cells + 1
  const at = (i: number, j: number): number => 2 * (j * wide + i)
  let most = 0
  const look = (here: number, around: readonly number[]): void => {
    for (const k of [0, 1]) {
      const values = around.map((p) => finer[p + k]!)
      const value = finer[here + k]!
      const missing = [value, ...values].filter(Number.isNaN).length
      if (missing === values.length + 1) continue
      const mean = values.reduce((sum, each) => sum + each, 0) / values.length
      most = missing > 0 ? Number.POSITIVE_INFINITY : Math.max(most, Math.abs(mean - value))
    }
  }
  for (let j = 0; j < wide; j++) {
    for (let i = 0; i < wide; i++) {
      const [oddX, oddY] = [i % 2 === 1, j % 2 === 1]
      if (oddX && oddY)
        look(at(i, j), [at(i - 1, j - 1), at(i + 1, j - 1), at(i - 1, j + 1), at(i + 1, j + 1)])
      else if (oddX) look(at(i, j), [at(i - 1, j), at(i + 1, j)])
      else if (oddY) look(at(i, j), [at(i, j - 1), at(i, j + 1)])
    }
  }
  return most
}

/** Source column and row of each pixel's centre of a tile, interleaved, row by row. */
export function meshPixels({ cells, nodes }: ControlMesh, side: number): Float64Array {
  const out = new Float64Array(2 * side * side)
  const wide = 2 * (cells + 1)
  for (let y = 0, o = 0; y < side; y++) {
    const v = ((y + 0.5) / side) * cells
    const j = Math.min(cells - 1, Math.floor(v))
    const fy = v - j
    for (let x = 0; x < side; x++) {
      const u = ((x + 0.5) / side) * cells
      const i = Math.min(cells - 1, Math.floor(u))
      const fx = u - i
      const p = j * wide + 2 * i
      for (let k = 0; k < 2; k++, o++) {
        const above = nodes[p + k]! + fx * (nodes[p + 2 + k]! - nodes[p + k]!)
        const below = nodes[p + wide + k]! + fx * (nodes[p + wide + 2 + k]! - nodes[p + wide + k]!)
        out[o] = above + fy * (below - above)
      }
    }
  }
  return out
}
