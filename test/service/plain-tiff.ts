/** Field types of TIFF 6.0. */
const [short, long] = [3, 4]
const rowsPerStrip = 16

/**
 * The parts of a plain TIFF of red, green and blue, uncompressed, in strips of 16 rows, its directory last: furrows with noise, the same at every
 * run. A part is a strip, so that a picture of any size can be written without being held.
 */
export function* plainTiff(columns: number, rows: number): Generator<Uint8Array> {
  const rowBytes = 3 * columns
  const strips = Math.ceil(rows / rowsPerStrip)
  const directoryAt = 8 + rows * rowBytes
  if (directoryAt > 0xf000_0000) throw new RangeError('a plain TIFF holds less than 4 GB')
  const head = Buffer.from('49492a0000000000', 'hex')
  head.writeUInt32LE(directoryAt, 4)
  yield head
  let seed = 12_345
  for (let top = 0; top < rows; top += rowsPerStrip) {
    const strip = Buffer.alloc(Math.min(rowsPerStrip, rows - top) * rowBytes)
    for (let i = 0, y = top; i < strip.length; y++) {
      for (let x = 0; x < columns; x++, i += 3) {
        seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0
        const light =
          120 + 40 * Math.sin(x / 40 + 3 * Math.sin(y / 300)) + 30 * Math.sin(y / 500) + (seed >>> 27) - 16
        strip[i] = light + 10
        strip[i + 1] = light + 25
        strip[i + 2] = light - 20
      }
    }
    yield strip
  }
  yield directory(columns, rows, strips, directoryAt)
}

function directory(columns: number, rows: number, strips: number, at: number): Uint8Array {
  const bodyAt = at + 2 + 12 * 10 + 4
  const body = Buffer.alloc(8 + 8 * strips)
  for (const k of [0, 1, 2]) body.writeUInt16LE(8, 2 * k)
  for (let k = 0; k < strips; k++) {
    const bytes = Math.min(rowsPerStrip, rows - k * rowsPerStrip) * 3 * columns
    body.writeUInt32LE(8 + k * rowsPerStrip * 3 * columns, 8 + 4 * k)
    body.writeUInt32LE(bytes, 8 + 4 * strips + 4 * k)
  }
  const inline = strips === 1
  const fields: [number, number, number, number][] = [
    [256, long, 1, columns],
    [257, long, 1, rows],
    [258, short, 3, bodyAt],
    [259, short, 1, 1],
    [262, short, 1, 2],
    [273, long, strips, inline ? 8 : bodyAt + 8],
    [277, short, 1, 3],
    [278, long, 1, rowsPerStrip],
    [279, long, strips, inline ? 3 * columns * rows : bodyAt + 8 + 4 * strips],
    [284, short, 1, 1],
  ]
  const table = Buffer.alloc(2 + 12 * fields.length + 4)
  table.writeUInt16LE(fields.length)
  for (const [i, [tag, type, count, value]] of fields.entries()) {
    table.writeUInt16LE(tag, 2 + 12 * i)
    table.writeUInt16LE(type, 4 + 12 * i)
    table.writeUInt32LE(count, 6 + 12 * i)
    table.writeUInt32LE(value, 10 + 12 * i)
  }
  return Buffer.concat([table, body])
}
