import { closeSync, fstatSync, mkdtempSync, openSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import * as fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { blockLevels, blockSide, readBlocks, writeBlockRow, writeUpperLevels } from './pyramid-blocks.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'blocks-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

/** A file of a grid whose value at a column and row is `value`, with all levels. */
function written(columns: number, rows: number, value: (column: number, row: number) => number) {
  const fd = openSync(path.join(folder, 'grid'), 'w+')
  const { levels, bytes } = blockLevels(columns, rows)
  const [finest] = levels
  for (let down = 0; down < finest!.down; down++) {
    const top = down * blockSide
    const values = new Float32Array(columns * Math.min(blockSide, rows - top))
    for (let i = 0; i < values.length; i++) values[i] = value(i % columns, top + Math.floor(i / columns))
    writeBlockRow(fd, finest!, down, values)
  }
  writeUpperLevels(fd, levels, () => {}, '')
  expect(fstatSync(fd).size).toBe(bytes)
  return { fd, levels }
}

test('any window holds what was written, and NaN beyond the grid', () => {
  const size = fc.integer({ min: 1, max: 600 })
  fc.assert(
    fc.property(
      size,
      size,
      fc.integer({ min: -50, max: 600 }),
      fc.integer({ min: -50, max: 600 }),
      (c, r, left, top) => {
        const { fd, levels } = written(c, r, (x, y) => x + 1000 * y)
        const window = { left, top, width: 40, height: 30 }
        const values = readBlocks(fd, levels[0]!, window)
        for (let i = 0; i < values.length; i++) {
          const [x, y] = [left + (i % 40), top + Math.floor(i / 40)]
          const inside = x >= 0 && y >= 0 && x < c && y < r
          expect(values[i]).toBe(inside ? x + 1000 * y : Number.NaN)
        }
        closeSync(fd)
      },
    ),
    { numRuns: 25 },
  )
})

test('each level is the mean of the finer one, holes left out, down to a single block', () => {
  const hole = (x: number, y: number): boolean => x < 3 && y < 3
  const { fd, levels } = written(1000, 700, (x, y) => (hole(x, y) ? Number.NaN : x))
  expect(levels.map(({ columns, rows }) => [columns, rows])).toEqual([
    [1000, 700],
    [500, 350],
    [250, 175],
  ])
  const second = readBlocks(fd, levels[1]!, { left: 0, top: 0, width: 3, height: 2 })
  const byHand = [Number.NaN, 3, 4.5, 0.5, 8 / 3, 4.5]
  expect(second).toEqual(Float32Array.from(byHand))
  const far = readBlocks(fd, levels[2]!, { left: 100, top: 100, width: 1, height: 1 })
  expect(far[0]).toBe(4 * 100 + 1.5)
  closeSync(fd)
})

test('rows that are not a row of blocks are a wrong call', () => {
  const { levels } = blockLevels(10, 10)
  expect(() => writeBlockRow(0, levels[0]!, 0, new Float32Array(99))).toThrow(RangeError)
  expect(() => blockLevels(0, 5)).toThrow(RangeError)
})
