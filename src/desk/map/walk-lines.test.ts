import { expect, test } from 'vitest'
import { placeInWalk, spanOf, speedLines, trailUntil } from './walk-lines.ts'

const fix = (x: number, time: number, speed: number, piece = 0): number[] => [x, 0, time, speed, 1, piece]
const walk = Float64Array.from([
  ...fix(0, 100, 0.2),
  ...fix(1, 101, 0.2),
  ...fix(2, 102, 0.4),
  ...fix(3, 103, 0.9),
  ...fix(9, 200, 0.1, 1),
  ...fix(10, 201, 0.1, 1),
])

test('legs go to their step of speed, and no line bridges two pieces', () => {
  const [safe, fast, faster] = speedLines(walk, 0.25)
  expect(safe).toEqual([
    [
      [0, 0],
      [1, 0],
    ],
    [
      [9, 0],
      [10, 0],
    ],
  ])
  expect(fast).toEqual([
    [
      [1, 0],
      [2, 0],
    ],
  ])
  expect(faster).toHaveLength(1)
})

test('at a moment: the walk so far, the walker, and nothing before the first fix', () => {
  expect(trailUntil(walk, 102)).toEqual([
    [
      [0, 0],
      [1, 0],
      [2, 0],
    ],
  ])
  expect(placeInWalk(walk, 102.5)).toEqual([2, 0])
  expect(placeInWalk(walk, 99)).toBeNull()
  expect(spanOf(walk)).toEqual([100, 201])
  expect(spanOf(Float64Array.from(fix(0, Number.NaN, 1)))).toBeNull()
})
