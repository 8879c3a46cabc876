/**
 * Makes data/ostn15.bin.br from the two shift files of the Debian source package libgeo-coordinates-osgb-perl 2.20-2
 * (Geo::Coordinates::OSGB 2.20 on CPAN): headerless little-endian uint16, 701 x 1251 nodes, row by row from the
 * south-west, easting fastest; the shift in millimetres is the value plus the number in the file's name.
 *
 *   node data/make-ostn15.ts ostn_east_shift_82140 ostn_north_shift_-84180
 */
import { readFileSync, writeFileSync } from 'node:fs'
import { basename } from 'node:path'
import { brotliCompressSync, brotliDecompressSync, constants } from 'node:zlib'
import { decodeShiftGrid, encodeShiftGrid, type ShiftGrid } from '#core/geodesy'

const [eastFile, northFile] = process.argv.slice(2)
if (eastFile === undefined || northFile === undefined) {
  console.error('usage: node data/make-ostn15.ts EAST_SHIFTS NORTH_SHIFTS')
  process.exit(2)
}

const columns = 701
const rows = 1251

function readAxis(file: string): { least: number; values: Uint16Array } {
  const least = Number(/_(-?\d+)$/.exec(basename(file))?.[1])
  const bytes = readFileSync(file)
  if (!Number.isInteger(least) || bytes.length !== 2 * columns * rows) throw new Error(`${file} is not a shift file`)
  return { least, values: Uint16Array.from({ length: columns * rows }, (_, k) => bytes.readUInt16LE(2 * k)) }
}

const east = readAxis(eastFile)
const north = readAxis(northFile)
const millimetres = new Uint16Array(2 * columns * rows)
for (let k = 0; k < columns * rows; k += 1) {
  millimetres[2 * k] = east.values[k]!
  millimetres[2 * k + 1] = north.values[k]!
}
const grid: ShiftGrid = {
  columns,
  rows,
  step: 1000,
  leastEast: east.least,
  leastNorth: north.least,
  millimetres,
}
const coded = encodeShiftGrid(grid)
const packed = brotliCompressSync(coded, {
  params: {
    [constants.BROTLI_PARAM_QUALITY]: 11,
    [constants.BROTLI_PARAM_LGWIN]: 24,
    [constants.BROTLI_PARAM_SIZE_HINT]: coded.length,
  },
})
const back = decodeShiftGrid(brotliDecompressSync(packed))
if (Buffer.compare(Buffer.from(back.millimetres.buffer), Buffer.from(millimetres.buffer)) !== 0) {
  throw new Error('the packed grid does not unpack to what went in')
}
writeFileSync(new URL('ostn15.bin.br', import.meta.url), packed)
console.log(`${coded.length} bytes coded, ${packed.length} packed`)
