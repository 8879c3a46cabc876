import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { groundAt, pictureAt, placementFromLines } from '#core/imagery'
import { joinedFrame, type TileFrame } from './mosaic.ts'

const frame = (west: number, north: number, columns: number, rows: number, cell = 1): TileFrame => ({
  columns,
  rows,
  placing: placementFromLines({
    easting: west,
    northing: north,
    eastingPerColumn: cell,
    northingPerColumn: 0,
    eastingPerRow: 0,
    northingPerRow: -cell,
  }),
})
const tile = frame(558_000, 348_000, 500, 500)

test('tiles that touch along a side become one, wherever the second lies', () => {
  const sides = fc.constantFrom([500, 0], [-400, 0], [0, -500], [0, 300], [500, -200], [-400, 100])
  fc.assert(
    fc.property(sides, ([east, north]) => {
      const other = frame(558_000 + east!, 348_000 + north!, 400, 300)
      const joined = joinedFrame([tile], [other])!
      for (const [part, at] of [
        [tile, joined.first[0]!],
        [other, joined.second[0]!],
      ] as const) {
        const there = groundAt(part.placing, 10, 20)
        expect(groundAt(joined.placing, at.column + 10, at.row + 20)).toEqual(there)
        const [column, row] = pictureAt(joined.placing, ...there)
        expect(column).toBeCloseTo(at.column + 10, 6)
        expect(row).toBeCloseTo(at.row + 20, 6)
        expect(at.column >= 0 && at.row >= 0).toBe(true)
        expect(at.column + part.columns <= joined.columns && at.row + part.rows <= joined.rows).toBe(true)
      }
      expect(joinedFrame([other], [tile])).toMatchObject({ columns: joined.columns, rows: joined.rows })
    }),
  )
})

test.each([
  ['apart', frame(558_501, 348_000, 500, 500)],
  ['touching at a corner only', frame(558_500, 347_500, 500, 500)],
  ['of other cells', frame(558_500, 348_000, 250, 250, 2)],
  ['off the lattice', frame(558_500, 348_000.4, 500, 500)],
  ['of the same ground', frame(558_000, 348_000, 500, 500)],
  ['overlapping by half', frame(558_250, 348_000, 500, 500)],
])('tiles %s are not one', (_, other) => {
  expect(joinedFrame([tile], [other])).toBeNull()
})

test('a rim in common and figures of few digits do not matter', () => {
  expect(joinedFrame([tile], [frame(558_490, 348_000, 500, 500)])).toMatchObject({ columns: 990, rows: 500 })
  expect(joinedFrame([tile], [frame(558_500.004, 348_000, 500, 500)])).toMatchObject({ columns: 1000 })
})

test('tiles of a square join in any order, the last into the gap that the others leave', () => {
  const square = [
    frame(558_000, 348_000, 500, 500),
    frame(558_500, 348_000, 500, 500),
    frame(558_000, 347_500, 500, 500),
    frame(558_500, 347_500, 500, 500),
  ]
  const [a, b, c, d] = square as [TileFrame, TileFrame, TileFrame, TileFrame]
  expect(joinedFrame([a, b, c], [d])).toMatchObject({
    ...{ columns: 1000, rows: 1000 },
    second: [{ column: 500, row: 500 }],
  })
  expect(joinedFrame([d, b], [a, c])!.first).toEqual([
    { column: 500, row: 500 },
    { column: 500, row: 0 },
  ])
  expect(joinedFrame([a, b], [frame(558_400, 347_700, 500, 500)])).toBeNull()
})
