import { describe, expect, test } from 'vitest'
import { recordedWalk, withFixes } from '../../../test/track/recorded-walk.ts'
import { sameWalk, withClockMoved } from './index.ts'

describe('the same walk recorded twice', () => {
  const walk = recordedWalk({ seconds: 1500, seed: 1, stops: [[300, 360]] })

  test.each([0, 12.5, -47, 3600, -18_000])('a second receiver whose clock needs %s s', (offset) => {
    const other = withClockMoved(
      recordedWalk({ seconds: 1500, everyS: 2.5, seed: 2, stops: [[300, 360]] }),
      -offset,
    )
    const found = sameWalk(walk, other)
    expect(found).toMatchObject({ same: true })
    expect(Math.abs(found!.offsetS - offset)).toBeLessThan(0.5)
    const turned = sameWalk(other, walk)
    expect(Math.abs(turned!.offsetS + offset)).toBeLessThan(0.5)
  })

  test('one receiver 200 m off is the same walk, shifted', () => {
    const off = withFixes(recordedWalk({ seconds: 1500, seed: 3, stops: [[300, 360]] }), ({ x, y }) => ({
      x: x + 200,
      y: y - 10,
    }))
    const found = sameWalk(walk, off)!
    expect(found.same).toBe(true)
    expect(Math.abs(found.shift.east - 200)).toBeLessThan(0.5)
    expect(Math.abs(found.shift.north + 10)).toBeLessThan(0.5)
  })

  test('two people side by side in opposite directions, or on other lanes, did not walk the same', () => {
    const backwards = withFixes(walk, ({ x, y }) => ({ x: x + 30, y: 684_060 - y }))
    expect(sameWalk(walk, backwards)?.same).toBe(false)
    const slower = recordedWalk({ seconds: 1500, speedMS: 0.31, seed: 9 })
    expect(sameWalk(walk, slower)?.same).toBe(false)
  })

  test('two short straight walks at other times are not taken for one', () => {
    const lane = recordedWalk({ seconds: 100 })
    const next = withFixes(lane, ({ x, t }) => ({ x: x + 2, t: t + 4000 }))
    expect(sameWalk(lane, next)?.same).toBe(false)
  })

  test('without times nothing can be said', () => {
    expect(sameWalk(walk, { ...walk, time: null })).toBeNull()
  })
})
