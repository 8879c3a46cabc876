import fc from 'fast-check'
import { expect, test } from 'vitest'
import { loneFix, type PlanarTrack, sweptLegs, sweptStep, walkAccount } from './index.ts'

const limits = { maxJumpM: 10, maxJumpS: 60 }
const track = (xy: number[], more: Partial<PlanarTrack> = {}): PlanarTrack => ({
  epsg: 27700,
  xy: Float64Array.from(xy),
  segmentStart: Uint32Array.from(xy.length > 0 ? [0] : []),
  time: null,
  ...more,
})
const account = (...tracks: PlanarTrack[]) =>
  walkAccount(
    tracks,
    tracks.map((each) => sweptLegs(each, limits)),
    limits,
  )

test('steps within the limits are swept; distance and time add up', () => {
  const legs = sweptLegs(track([0, 0, 3, 4, 3, 14], { time: Float64Array.of(100, 110, 170) }), limits)
  expect([...legs.kind]).toEqual([sweptStep, sweptStep, 0])
  expect(legs).toMatchObject({ legs: 2, lone: 0, distanceM: 15, walkingS: 70, backwards: 0, untimed: 0 })
})

test('a step across segments, too long, too slow or without a place is not swept, and each is counted once', () => {
  const xy = [0, 0, 1, 0, 2, 0, 3, 0, 14, 0, 15, 0, 16, 0, Number.NaN, 0, 18, 0]
  const time = Float64Array.of(0, 1, 2, 3, 4, 5, 66, 67, 68)
  const legs = sweptLegs(track(xy, { segmentStart: Uint32Array.of(0, 2), time }), limits)
  expect(legs.broken).toEqual({ segment: 1, distance: 1, time: 1, unplaced: 2 })
  expect([...legs.kind]).toEqual([1, 0, 1, 0, 1, 0, loneFix, 0, loneFix])
  expect(legs.distanceM).toBe(3)
  expect(legs.walkingS).toBe(3)
})

test('times running backwards are no pause, count no time, and are told', () => {
  const walk = track([0, 0, 1, 0, 2, 0], { time: Float64Array.of(1000, 500, 501) })
  expect(sweptLegs(walk, limits)).toMatchObject({ legs: 2, backwards: 1, walkingS: 1 })
  expect(account(walk).notes).toEqual([
    'Times run backwards on 1 step; the order of the fixes was kept, no time was counted there.',
  ])
})

test('no times give no walking time, and times on some legs only give a part, both told', () => {
  const without = track([0, 0, 1, 0])
  expect(account(without)).toEqual({
    distanceM: 1,
    walkingS: null,
    notes: ['The fixes carry no times, so the walking time is not known.'],
  })
  const partly = track([0, 0, 1, 0, 2, 0], { time: Float64Array.of(0, 2, Number.NaN) })
  expect(account(without, partly)).toEqual({
    distanceM: 3,
    walkingS: 2,
    notes: ['The walking time leaves out 2 steps without times.'],
  })
})

test('no fix, one fix and all fixes at one spot', () => {
  expect(sweptLegs(track([]), limits)).toMatchObject({ legs: 0, lone: 0, distanceM: 0, walkingS: null })
  expect(sweptLegs(track([5, 5]), limits)).toMatchObject({ legs: 0, lone: 1, distanceM: 0, walkingS: null })
  expect(sweptLegs(track([5, 5, 5, 5, 5, 5]), limits)).toMatchObject({ legs: 2, lone: 0, distanceM: 0 })
})

test('limits that are not above zero are refused in words', () => {
  expect(() => sweptLegs(track([0, 0]), { maxJumpM: 0, maxJumpS: 60 })).toThrow(
    'longest step must be above 0 m',
  )
  expect(() => sweptLegs(track([0, 0]), { maxJumpM: 1, maxJumpS: Number.NaN })).toThrow('longest pause')
})

test('every step is either swept or broken for one reason', () => {
  const anyWalk = fc.array(fc.tuple(fc.double({ min: -20, max: 20 }), fc.integer({ min: 0, max: 100 })), {
    minLength: 1,
    maxLength: 40,
  })
  fc.assert(
    fc.property(anyWalk, fc.nat(39), (walk, cut) => {
      const time = Float64Array.from(walk, ([, seconds]) => seconds)
      const segmentStart = cut > 0 && cut < walk.length ? Uint32Array.of(0, cut) : Uint32Array.of(0)
      const legs = sweptLegs(
        track(
          walk.flatMap(([x]) => [x, 0]),
          { time, segmentStart },
        ),
        limits,
      )
      const { segment, unplaced, distance, time: slow } = legs.broken
      expect(legs.legs + segment + unplaced + distance + slow).toBe(walk.length - 1)
      expect(legs.kind.filter((kind) => kind === sweptStep)).toHaveLength(legs.legs)
    }),
  )
})
