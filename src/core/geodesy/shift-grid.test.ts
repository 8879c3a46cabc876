import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { decodeShiftGrid, encodeShiftGrid, type ShiftGrid } from './shift-grid.ts'

const coded = brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url)))

const anyGrid = fc
  .tuple(fc.integer({ min: 2, max: 9 }), fc.integer({ min: 2, max: 9 }))
  .chain(([columns, rows]) =>
    fc.record({
      columns: fc.constant(columns),
      rows: fc.constant(rows),
      step: fc.integer({ min: 1, max: 5000 }),
      leastEast: fc.integer({ min: -100_000, max: 100_000 }),
      leastNorth: fc.integer({ min: -100_000, max: 100_000 }),
      millimetres: fc.uint16Array({ minLength: 2 * columns * rows, maxLength: 2 * columns * rows }),
    }),
  )

test('a grid packed and unpacked is the same grid', () => {
  fc.assert(
    fc.property(anyGrid, (grid: ShiftGrid) => {
      expect(decodeShiftGrid(encodeShiftGrid(grid))).toEqual(grid)
    }),
  )
})

test('the shift grid shipped is the one described in data/OSTN15-NOTICE.md', () => {
  const grid = decodeShiftGrid(coded)
  expect([grid.columns, grid.rows, grid.step, grid.leastEast, grid.leastNorth]).toEqual([
    701, 1251, 1000, 82_140, -84_180,
  ])
  // SHA-256 of the nodes as interleaved little-endian uint16, from the two source files by Python's hashlib.
  expect(createHash('sha256').update(grid.millimetres).digest('hex')).toBe(
    'e141d12bcf9a6c127d500590b428c45778039fe04618ba7d8483239ae519a07a',
  )
})

test('bytes that are no shift grid, or are cut short or too long, are refused', () => {
  expect(() => decodeShiftGrid(new Uint8Array(0))).toThrow('not a coded shift grid')
  expect(() => decodeShiftGrid(new Uint8Array(64))).toThrow('not a coded shift grid')
  expect(() => decodeShiftGrid(coded.subarray(0, 1000))).toThrow('cut short')
  expect(() => decodeShiftGrid(Uint8Array.from([...encodeShiftGrid(decodeShiftGrid(coded)), 0]))).toThrow(
    'left over',
  )
})
