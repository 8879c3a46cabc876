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
    const passes = this.#passes
    const columns = this.#columns
    const rows = this.#rows
    const walked = this.#walked
    // From a cell to the next one east, south, west, north.
    const ahead = [1, columns, -1, -columns] as const
    // The corner reached, and the cell of the gap on the left of the edge being walked.
    let x = column
    let y = row
    let left = row * columns + column
    let heading = 1
    let before = -1
    let length = 0
    let cells = 0
    // The edge before decides whether the vertex on the first edge is needed, so that edge is walked again at the end.
    let again = false
    for (;;) {
      if (heading === 1) walked[left >> 3]! |= 1 << (left & 7)
      const dx = stepX[heading]!
      const dy = stepY[heading]!
      const middleX = 2 * x + dx
      const middleY = 2 * y + dy
      x += dx
      y += dy
      if (!again) cells -= dy * x
      // Round the ground that is no gap, kept on the right: right if a gap lies ahead on that side, else on, else left.
      const onLeft = left + ahead[heading]!
      const onRight = onLeft + ahead[(heading + 1) & 3]!
      let next = (heading + 3) & 3
      if (x > 0 && y > 0 && x < columns && y < rows) {
        if (passes[onRight] === 0) {
          next = (heading + 1) & 3
          left = onRight
        } else if (passes[onLeft] === 0) {
          next = heading
          left = onLeft
        }
      } else if (this.#goesOn(x, y, heading) && passes[onLeft] === 0) {
        // On the edge of the grid there is nothing on the right.
        next = heading
        left = onLeft
      }
      if (before !== -1 && (before !== heading || next !== heading)) {
        if (length + 2 > this.#vertices.length) this.#grow()
        this.#vertices[length++] = middleX
        this.#vertices[length++] = middleY
      }
      if (again) break
      before = heading
      heading = next
      again = x === column && y === row && heading === 1
    }
    return { vertices: this.#vertices.slice(0, length), cells }
  }

  /** At a corner on the edge of the grid: true where the cell ahead on the left still lies in the grid. */
  #goesOn(x: number, y: number, heading: number): boolean {
    if (heading === 0) return x < this.#columns && y > 0
    if (heading === 1) return x < this.#columns && y < this.#rows
    if (heading === 2) return x > 0 && y < this.#rows
    return x > 0 && y > 0
  }

  #grow(): void {
    const wider = new Int32Array(this.#vertices.length * 2)
    wider.set(this.#vertices)
    this.#vertices = wider
  }
}
