import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { clickedPoint, type DraftPoint, fitDraft, movedPoint, pointsOf } from './tie-draft.ts'

test('a spot in the picture waits for the same spot on the ground, and the next begins another point', () => {
  const first = clickedPoint([], null, 'picture', [10, 20])
  expect(first.points).toEqual([{ id: 1, picture: [10, 20], ground: null }])
  const both = clickedPoint(first.points, first.id, 'ground', [500, 600])
  expect(both.points).toEqual([{ id: 1, picture: [10, 20], ground: [500, 600] }])
  const second = clickedPoint(both.points, both.id, 'ground', [501, 602])
  expect(second.points[1]).toEqual({ id: 2, picture: null, ground: [501, 602] })
  expect(clickedPoint(second.points, 1, 'picture', [30, 40]).id).toBe(2)
})

test('a removed point leaves its number to nobody', () => {
  const points: DraftPoint[] = [{ id: 7, picture: [0, 0], ground: [0, 0] }]
  expect(clickedPoint(points, null, 'picture', [1, 1]).id).toBe(8)
})

// A picture of 0.5 m pixels whose upper left corner is at 1000, 2000.
const square: DraftPoint[] = [
  { id: 1, picture: [0, 0], ground: [1000, 2000] },
  { id: 2, picture: [100, 0], ground: [1050, 2000] },
  { id: 3, picture: [100, 100], ground: [1050, 1950] },
]

test('three points fit whatever they are; a fourth that is 4 m off shows it', () => {
  const three = fitDraft(square, 'affine')
  expect(three).toMatchObject({ rmsM: null, placing: { method: 'affine' } })
  const fourth: DraftPoint = { id: 9, picture: [0, 100], ground: [1000, 1954] }
  const four = fitDraft([...square, fourth, { id: 10, picture: [5, 5], ground: null }], 'affine')
  // An error of 4 m at one corner of a square is shared by all, +1 -1 +1 -1; four squares of 1 m over two degrees of freedom.
  if (!('residualsM' in four)) throw new Error(four.fault)
  expect([...four.residualsM.keys()]).toEqual([1, 2, 3, 9])
  for (const off of four.residualsM.values()) expect(off).toBeCloseTo(1, 9)
  expect(four.rmsM).toBeCloseTo(Math.SQRT2, 9)
  expect(four.placing.points).toHaveLength(4)
})

test('too few points, or points on a line, are said in a sentence', () => {
  expect(fitDraft(square.slice(0, 2), 'affine')).toEqual({ fault: '1 more point on both sides, at least.' })
  expect(fitDraft(square, 'projective')).toMatchObject({ fault: expect.stringContaining('1 more point') })
  const line = movedPoint(square, 3, 'picture', [50, 0])
  expect(fitDraft(line, 'affine')).toMatchObject({ fault: expect.stringContaining('one line') })
})

test('the points that placed a picture are taken up again', () => {
  const tiePoints = [{ column: 1, row: 2, easting: 3, northing: 4 }]
  expect(pointsOf(madeUpLayer({ tiePoints }))).toEqual([{ id: 1, picture: [1, 2], ground: [3, 4] }])
  expect(pointsOf(madeUpLayer())).toEqual([])
})
