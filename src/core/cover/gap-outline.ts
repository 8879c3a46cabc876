import type { CoverGrid } from './cover-grid.ts'

/** One closed outline in half cells: x from the west edge of the grid, y from its north edge, downwards. */
export interface Outline {
  /** Interleaved pairs, not repeated at the end; vertices in the middle of a straight stretch are left out. */
  readonly vertices: Int32Array
  /** Cells within: positive where the gap lies inside (its outer outline), negative for a hole. */
  readonly cells: number
}

/** Headings in clockwise order, y downwards: east, south, west, north. */
const stepX = [1, 0, -1, 0] as const
const stepY = [0, 1, 0, -1] as const

/**
 * Follows the outlines of ground not reached.
 *
 * Method  marching squares (Lorensen and Cline 1987, Computer Graphics 21, in the plane) over cell centres with crossings
 *         midway: the outline joins the middles of the cell edges that part gap from no gap. Where two cells of a gap
 *         meet only at a corner (a saddle) they stay joined. Walked with the gap on the left, edge by edge.
 * Cost    one step an edge of the outline; one bit a cell remembers the edges that have been walked.
 */
export class OutlineTracer {
  readonly #passes: Uint8Array
  readonly #columns: number
  readonly #rows: number
  /** Bit set for each cell whose west edge has been walked. */
  readonly #walked: Uint8Array
  #vertices = new Int32Array(1 << 12)

  constructor({ passes, columns, rows }: CoverGrid) {
    this.#passes = passes
    this.#columns = columns
    this.#rows = rows
    this.#walked = new Uint8Array(Math.ceil((columns * rows) / 8))
  }

  /** True where the outline along the west edge of a cell has been followed. */
  hasWalked(row: number, column: number): boolean {
    const cell = row * this.#columns + column
    return (this.#walked[cell >> 3]! & (1 << (cell & 7))) !== 0
  }

  /** Follows the outline that runs along the west edge of a cell of a gap; there must be no gap west of it. */
  follow(row: number, column: number): Outline {
    let x = column
    let y = row
    let heading = 1
    let before = -1
    let length = 0
    let cells = 0
    // The heading two edges back decides whether the vertex on the last edge is needed, so the start is walked over again.
    const [startX, startY] = [x, y]
    let startedAgain = false
    for (;;) {
      if (heading === 1) this.#markWalked(y, x)
      const [dx, dy] = [stepX[heading]!, stepY[heading]!]
      const [middleX, middleY] = [2 * x + dx, 2 * y + dy]
      x += dx
      y += dy
      if (!startedAgain) cells += dy * x
      const next = this.#turn(x, y, heading)
      if (before !== -1 && (before !== heading || next !== heading)) {
        if (length + 2 > this.#vertices.length) this.#grow()
        this.#vertices[length++] = middleX
        this.#vertices[length++] = middleY
      }
      if (startedAgain) break
      before = heading
      heading = next
      startedAgain = x === startX && y === startY && heading === 1
    }
    return { vertices: this.#vertices.slice(0, length), cells: -cells }
  }

  /** The heading after reaching a corner: round the ground that is no gap, kept on the right. */
  #turn(x: number, y: number, heading: number): number {
    // The two cells ahead, on the left and on the right of the heading.
    const [dx, dy] = [stepX[heading]!, stepY[heading]!]
    const aheadX = x + (dx > 0 || dy > 0 ? 0 : -1)
    const aheadY = y + (dy > 0 || dx < 0 ? 0 : -1)
    if (this.#isGap(aheadX - (dy > 0 ? 1 : dy < 0 ? -1 : 0), aheadY + (dx > 0 ? 1 : dx < 0 ? -1 : 0)))
      return (heading + 1) & 3
    return this.#isGap(aheadX, aheadY) ? heading : (heading + 3) & 3
  }

  #isGap(x: number, y: number): boolean {
    return (
      x >= 0 && y >= 0 && x < this.#columns && y < this.#rows && this.#passes[y * this.#columns + x] === 0
    )
  }

  #markWalked(row: number, column: number): void {
    const cell = row * this.#columns + column
    this.#walked[cell >> 3]! |= 1 << (cell & 7)
  }

  #grow(): void {
    const wider = new Int32Array(this.#vertices.length * 2)
    wider.set(this.#vertices)
    this.#vertices = wider
  }
}
