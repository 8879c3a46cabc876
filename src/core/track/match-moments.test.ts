import { describe, expect, test } from 'vitest'
import { recordedWalk } from '../../../test/track/recorded-walk.ts'
import {
  defaultMatching,
  type Moment,
  matchMoments,
  questionSpots,
  type Spot,
  visitsOfSpot,
  zoneOfMoments,
} from './index.ts'

const walk = recordedWalk({ seconds: 1800, noiseM: 0.1 })
const start = walk.time![0]!
/** Where the walk was so many seconds after its start: lanes of 120 s. */
const spotAt = (seconds: number, time: number | null = start + seconds): Spot => ({
  x: walk.xy[2 * seconds]!,
  y: walk.xy[2 * seconds + 1]!,
  time,
})
const photo = (time: number | null, zoneS: number | null = 0, place: Moment['place'] = null): Moment => ({
  time,
  zoneS,
  place,
})
const one = (moment: Moment, spots: Spot[], more = {}) =>
  matchMoments([moment], spots, [walk], { ...defaultMatching, ...more })[0]!

describe('photographs', () => {
  const spots = [spotAt(100), spotAt(700, null), spotAt(1500)]

  test('by time, by where the walker was then, and by their own place', () => {
    expect(one(photo(start + 105), spots)).toMatchObject({ spot: 0, status: 'matched' })
    expect(one(photo(start + 702), spots)).toMatchObject({
      spot: 1,
      reason: 'Matched by where the walker was then.',
    })
    expect(one(photo(null, null, { x: spots[2]!.x + 3, y: spots[2]!.y }), spots)).toMatchObject({
      spot: 2,
      reason: 'Matched by its own place.',
    })
  })

  test('a zone and a clock offset are taken into account', () => {
    const summer = photo(start + 3600 + 105, 3600)
    expect(one(summer, spots)).toMatchObject({ spot: 0, time: start + 105, zoneS: 3600 })
    expect(one(photo(start + 105 - 7200), spots).status).toBe('unmatched')
    expect(one(photo(start + 105 - 7200), spots, { clockS: 7200 }).spot).toBe(0)
  })

  test('a zone that is not told is found where only one fits, and asked for where several do', () => {
    expect(one(photo(start + 3600 + 105, null), spots)).toMatchObject({
      spot: 0,
      zoneS: 3600,
      status: 'matched',
    })
    const twice = [spotAt(100), { ...spotAt(100), x: spotAt(100).x + 500, time: start + 3700 }]
    const unclear = one(photo(start + 3700, null), twice)
    expect(unclear).toMatchObject({ spot: null, status: 'zone-unclear', zoneS: null })
    expect(unclear.candidates.toSorted()).toEqual([0, 1])
  })

  test('two findspots that fit alike are both named, and none chosen', () => {
    const close = [spotAt(100), spotAt(104)]
    const found = one(photo(start + 102), close)
    expect(found).toMatchObject({ spot: null, status: 'ambiguous' })
    expect(found.candidates.toSorted()).toEqual([0, 1])
    expect(one(photo(null, null), close).status).toBe('unmatched')
    expect(one(photo(start + 102), []).reason).toContain('No findspot lies within 15 m and 10 min of it')
  })

  test('how far off in place and time is told; a place that fits at the wrong time is named, not taken', () => {
    const [x, y] = [spots[0]!.x + 4, spots[0]!.y]
    expect(one(photo(start + 130, 0, { x, y }), spots)).toMatchObject({ spot: 0, offM: 4, offS: 30 })
    const late = one(photo(start + 9000, 0, { x, y }), spots)
    expect(late).toMatchObject({ spot: null, candidates: [0], status: 'place-only', offM: 4, offS: 8900 })
    const wide = { x: spots[2]!.x + 30, y: spots[2]!.y }
    expect(one(photo(null, null, wide), spots).status).toBe('unmatched')
    expect(one(photo(null, null, { ...wide, accuracyM: 40 }), spots).spot).toBe(2)
  })

  test('the zone of a camera is that in which most of its photographs fit', () => {
    const many = [100, 700, 1500].map((seconds) => spotAt(seconds))
    const summer = [105, 702, 1490].map((seconds) => photo(start + 3600 + seconds, null))
    expect(zoneOfMoments(summer, many, [walk])).toEqual({
      zoneS: 3600,
      tried: [
        { zoneS: 0, fits: 0, apartS: null },
        { zoneS: 3600, fits: 3, apartS: 5 },
      ],
    })
    // Finds of an hour later, so that both zones lead to some: those of summer time are seconds away, the others minutes.
    const later = many.map((spot) => ({ ...spot, time: spot.time! + 3600 - 240 }))
    const nowhere = { ...walk, time: null }
    const places = summer.map((moment, i) => ({ ...moment, place: many[i]! }))
    expect(zoneOfMoments(places, [...many, ...later], [nowhere]).zoneS).toBe(3600)
    expect(zoneOfMoments(places.slice(1), [...many, ...later], [nowhere]).zoneS).toBeNull()
    expect(zoneOfMoments([photo(start + 1e6, null)], many, [walk]).zoneS).toBeNull()
  })
})

describe('findspots against their tracks', () => {
  test('near and in time none is questioned; far off, late, or at another place at its time they are', () => {
    const spots: Spot[] = [
      spotAt(100),
      spotAt(100, null),
      { ...spotAt(100), x: 561_300 },
      spotAt(100, start + 9000),
      spotAt(100, start + 1700),
    ]
    const asked = questionSpots(spots, [walk], 10)
    expect(asked.map(({ spot, code }) => [spot, code])).toEqual([
      [2, 'far-from-track'],
      [3, 'outside-times'],
      [4, 'far-at-its-time'],
    ])
    expect(asked[0]!.text).toMatch(/lies 2\d\d m from the nearest track/)
    expect(questionSpots(spots, [], 10)).toEqual([])
    expect(questionSpots([spotAt(100, 5)], [{ ...walk, time: null }], 10)).toEqual([])
  })

  test('a waypoint belongs to the visit that holds its time, else to those that pass by it', () => {
    const later = { ...walk, time: walk.time!.map((t) => t + 86_400) }
    expect(visitsOfSpot(spotAt(100), [[walk], [later]], 10)).toEqual([0])
    expect(visitsOfSpot(spotAt(100, start + 86_500), [[walk], [later]], 10)).toEqual([1])
    expect(visitsOfSpot(spotAt(100, null), [[walk], [later]], 10)).toEqual([0, 1])
    expect(visitsOfSpot({ x: 0, y: 0, time: null }, [[walk], [later]], 10)).toEqual([])
  })
})
