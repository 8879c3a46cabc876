import { expect, test } from 'vitest'
import { layerZip, shapeFile } from '../../../test/shapefile/shapefile-writer.ts'
import { readShapefile } from './index.ts'

/** A table of so many columns of one digit each. */
function wideTable(columns: number, rows: number): Uint8Array {
  const header = 32 + 32 * columns + 1
  const bytes = new Uint8Array(header + (columns + 1) * rows).fill(0x31, header)
  const view = new DataView(bytes.buffer)
  bytes[0] = 3
  view.setUint32(4, rows, true)
  view.setUint16(8, header, true)
  view.setUint16(10, columns + 1, true)
  for (let i = 0; i < columns; i++) {
    bytes.set(new TextEncoder().encode(`c${i}`), 32 + 32 * i)
    bytes[32 + 32 * i + 11] = 'N'.charCodeAt(0)
    bytes[32 + 32 * i + 16] = 1
  }
  bytes[header - 1] = 0x0d
  return bytes
}

test('a table made to swell gives so many values and no more', () => {
  const rows = 20_000
  const { shp } = shapeFile(Array.from({ length: rows }, (_, i) => ({ kind: 1, parts: [[i / 1000, 1]] })))
  const archive = layerZip({ shp, dbf: wideTable(2000, rows) })
  const { findspots, faults } = readShapefile(archive, { fileName: 'a.zip' })
  expect(findspots).toHaveLength(rows)
  expect(Object.keys(findspots[0]!.attributes)).toHaveLength(2000)
  expect(findspots.filter(({ attributes }) => 'c1' in attributes)).toHaveLength(2500)
  expect(faults).toMatchObject([
    { code: 'file-too-large', text: expect.stringContaining('17500 shapes come without attributes') },
  ])
}, 120_000)
