/** A chip of a raster: row 0 is the northernmost; NaN where it has no value. Cells are square. */
export interface TextureChip {
  readonly columns: number
  readonly rows: number
  readonly cells: Float32Array
}

/** One part of a chip, made ready for its lines to be looked for: what is left of each cell when its surroundings are taken off. */
export interface TextureBlock {
  readonly columns: number
  readonly rows: number
  /** NaN where there is no value. */
  readonly cells: Float32Array
  /** Cells with a value, and the sum of their squares. */
  readonly count: number
  readonly squares: number
}

/** Values that stand out by more than so many standard deviations count as those: a tree is no line. */
const mostDeviations = 2
/** A block with fewer of its cells is not asked. */
const leastFilled = 0.3

/** The parts of a chip that have enough cells and are not even, `across` along each side. Faults: RangeError where the cells are not columns x rows. */
export function textureBlocks({ columns, rows, cells }: TextureChip, across: number): TextureBlock[] {
  if (cells.length !== columns * rows)
    throw new RangeError(`${cells.length} cells are not ${columns} x ${rows}`)
  const blocks: TextureBlock[] = []
  for (let i = 0; i < across * across; i++) {
    const [row, column] = [Math.floor(i / across), i % across]
    const [left, right] = [
      Math.floor((column * columns) / across),
      Math.floor(((column + 1) * columns) / across),
    ]
    const [top, bottom] = [Math.floor((row * rows) / across), Math.floor(((row + 1) * rows) / across)]
    const own = new Float32Array((right - left) * (bottom - top))
    for (let r = top; r < bottom; r++)
      own.set(cells.subarray(r * columns + left, r * columns + right), (r - top) * (right - left))
    const block = standingOut(own, right - left, bottom - top)
    if (block.count >= leastFilled * own.length && block.squares > 0) blocks.push(block)
  }
  return blocks
}

/** Each cell less the mean of those about it, cut off at some deviations. */
function standingOut(values: Float32Array, columns: number, rows: number): TextureBlock {
  const reach = Math.max(4, Math.round(Math.max(columns, rows) / 8))
  const sums = new Float64Array((columns + 1) * (rows + 1))
  const counts = new Float64Array(sums.length)
  for (let r = 0, i = 0; r < rows; r++)
    for (let c = 0; c < columns; c++, i++) {
      const at = (r + 1) * (columns + 1) + c + 1
      const there = Number.isFinite(values[i]!)
      const before = at - columns - 1
      sums[at] = sums[at - 1]! + sums[before]! - sums[before - 1]! + (there ? values[i]! : 0)
      counts[at] = counts[at - 1]! + counts[before]! - counts[before - 1]! + (there ? 1 : 0)
    }
  const cells = new Float32Array(values.length).fill(Number.NaN)
  let [count, squares] = [0, 0]
  for (let r = 0, i = 0; r < rows; r++) {
    const [top, bottom] = [Math.max(0, r - reach), Math.min(rows, r + reach + 1)]
    for (let c = 0; c < columns; c++, i++) {
      if (!Number.isFinite(values[i]!)) continue
      const [left, right] = [Math.max(0, c - reach), Math.min(columns, c + reach + 1)]
      const about = (of: Float64Array): number =>
        of[bottom * (columns + 1) + right]! -
        of[bottom * (columns + 1) + left]! -
        of[top * (columns + 1) + right]! +
        of[top * (columns + 1) + left]!
      cells[i] = values[i]! - about(sums) / about(counts)
      count++
      squares += cells[i]! ** 2
    }
  }
  const most = mostDeviations * Math.sqrt(squares / Math.max(1, count))
  squares = 0
  for (let i = 0; i < cells.length; i++) {
    if (Number.isNaN(cells[i]!)) continue
    cells[i] = Math.max(-most, Math.min(most, cells[i]!))
    squares += cells[i]! ** 2
  }
  return { columns, rows, cells, count, squares }
}

/**
 * Share of a block's variance that lies between straight lines of cells along a bearing, less what chance gives them: 1 where all
 * cells of a line are alike, about 0 without lines along it. Cost: one pass over the cells.
 */
export function shareAlong({ columns, rows, cells, count, squares }: TextureBlock, bearing: number): number {
  const [sine, cosine] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)]
  const lines = new Float64Array(2 * columns + rows + 2)
  const counts = new Uint32Array(lines.length)
  for (let r = 0, i = 0; r < rows; r++) {
    // How far across the bearing a cell lies, from a line west of all of them.
    const from = r * sine + columns + 0.5
    for (let c = 0; c < columns; c++, i++) {
      const value = cells[i]!
      if (Number.isNaN(value)) continue
      const line = (from + c * cosine) | 0
      lines[line]! += value
      counts[line]!++
    }
  }
  let [between, used] = [0, 0]
  for (let line = 0; line < lines.length; line++) {
    if (counts[line] === 0) continue
    between += lines[line]! ** 2 / counts[line]!
    used++
  }
  if (count <= used) return 0
  return (between / squares - used / count) / (1 - used / count)
}
