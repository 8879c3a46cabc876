import fc from 'fast-check'
import { expect, test } from 'vitest'
import { partOfLane } from './index.ts'

const bent = Float64Array.of(0, 0, 10, 0, 10, 0, 10, 20)

test('a part keeps the corners between its ends', () => {
  expect([...partOfLane(bent, 4, 15)]).toEqual([4, 0, 10, 0, 10, 5])
  expect([...partOfLane(bent, -3, 99)]).toEqual([0, 0, 10, 0, 10, 20])
  expect([...partOfLane(bent, 12, 12)]).toEqual([])
})

test('a part is as long as it was asked for', () => {
  const length = (xy: Float64Array): number => {
    let sum = 0
    for (let i = 2; i < xy.length; i += 2) sum += Math.hypot(xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!)
    return sum
  }
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 30, noNaN: true }),
      fc.double({ min: 0, max: 30, noNaN: true }),
      (a, b) => {
        const [from, to] = [Math.min(a, b), Math.max(a, b)]
        return Math.abs(length(partOfLane(bent, from, to)) - (to - from)) < 1e-9
      },
    ),
  )
})
