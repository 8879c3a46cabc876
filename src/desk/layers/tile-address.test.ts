import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { pictureLevels, tileAddress, tileQuery, wholeTile } from './tile-address.ts'

test('the address holds level, column, row, the view and the stamp', () => {
  const address = tileAddress(madeUpLayer(), { view: 'band', number: 4, azimuth: 3 })
  expect(address(2, 5, 1)).toBe('/api/layers/3/tiles/2/5/1.png?view=band&number=4&v=stamp-1')
})

test('another stamp is another address, and without one there is no v', () => {
  expect(tileQuery(madeUpLayer({ stamp: undefined }), { view: 'as-is' })).toBe('view=as-is')
  expect(tileQuery(madeUpLayer({ stamp: 'b' }), { view: 'as-is' })).toBe('view=as-is&v=b')
})

test.each([
  [1, 1, 1],
  [256, 256, 1],
  [257, 10, 2],
  [4000, 3000, 5],
  [20_000, 20_000, 8],
])('a picture of %i x %i has %i levels', (columns, rows, levels) => {
  expect(pictureLevels(columns, rows)).toBe(levels)
})

test('the top tile shows the whole layer, and the share it fills', () => {
  const placed = wholeTile(madeUpLayer(), { view: 'as-is' })
  expect(placed.address).toBe('/api/layers/3/tiles/4/0/0.png?view=as-is&v=stamp-1')
  // 256 pixels of 1.6 m are 409.6 m.
  expect(placed.width).toBeCloseTo(400 / 409.6, 9)
  expect(placed.height).toBeCloseTo(300 / 409.6, 9)
  const unplaced = wholeTile(madeUpLayer({ bounds: null, columns: 256, rows: 100, levels: 1 }), {
    view: 'as-is',
  })
  expect(unplaced.address).toContain('/picture/0/0/0.png')
  expect([unplaced.width, unplaced.height]).toEqual([1, 100 / 256])
})
