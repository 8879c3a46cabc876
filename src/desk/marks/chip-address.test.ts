import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { madeUpMark } from '../../../test/desk/made-up-mark.ts'
import { chipAddress, chipSide, reaches } from './chip-address.ts'

test('the address names layer, view, stamp and place', () => {
  const view = { view: 'band', number: 2, azimuth: 315 } as const
  expect(chipAddress(madeUpMark(), madeUpLayer(), view)).toBe(
    '/api/marks/5/chip.png?layer=3&side=50&view=band&number=2&at=560200.00%2C349850.00&v=stamp-1',
  )
})

test('a mark that was moved or resized has another address', () => {
  const of = (more: Parameters<typeof madeUpMark>[0]) =>
    chipAddress(madeUpMark(more), madeUpLayer(), { view: 'as-is' })
  expect(new Set([of({}), of({ easting: 560_200.5 }), of({ diameterM: 30 })]).size).toBe(3)
})

test('small marks are shown with room about them, lines by their extent', () => {
  expect(chipSide(madeUpMark({ diameterM: 2 }))).toBe(12)
  const outline: [number, number][] = [
    [0, 0],
    [100, 20],
  ]
  const line = madeUpMark({ kind: 'line', diameterM: null, outline, easting: 50, northing: 10 })
  expect(chipSide(line)).toBe(150)
  // As a bent one, whose middle is not that of its bounds.
  expect(chipSide({ ...line, easting: 30 })).toBe(210)
})

test('a layer reaches a mark whose middle lies on it', () => {
  expect(reaches(madeUpLayer(), madeUpMark())).toBe(true)
  expect(reaches(madeUpLayer(), madeUpMark({ easting: 559_999 }))).toBe(false)
  expect(reaches(madeUpLayer({ found: false }), madeUpMark())).toBe(false)
  expect(reaches(madeUpLayer({ bounds: null }), madeUpMark())).toBe(false)
})
