import { expect, test } from 'vitest'
import { recordedWalk, withFixes } from '../../../test/track/recorded-walk.ts'
import { cleanTrack, compareLanes, defaultCleanSettings, type LaneLine, type PlanarTrack } from './index.ts'

/** The lanes of `recordedWalk`: 60 m long, 2 m apart, northwards. */
const lanes = (count: number): LaneLine[] =>
  Array.from({ length: count }, (_, n) => Float64Array.of(561_000 + 2 * n, 342_000, 561_000 + 2 * n, 342_060))
/** Fifteen lanes in half an hour. */
const walk = recordedWalk({ seconds: 1800, noiseM: 0.1 })
const states = (planned: LaneLine[], tracks: PlanarTrack[], toleranceM = 0.8): string =>
  compareLanes(planned, tracks, toleranceM)
    .lanes.map(({ state }) => state[0])
    .join('')

test('lanes walked, skipped and walked in part', () => {
  expect(states(lanes(17), [walk])).toBe(`${'w'.repeat(15)}ss`)
  const half = recordedWalk({ seconds: 180, noiseM: 0.1 })
  const { lanes: found, walkedM, plannedM } = compareLanes(lanes(2), [half], 0.8)
  expect(found.map(({ state }) => state)).toEqual(['walked', 'part'])
  expect(plannedM).toBeCloseTo(120, 9)
  expect(Math.abs(walkedM - 90)).toBeLessThan(2)
  // The second lane is walked from its far end; what is missed is its beginning.
  expect(found[1]!.missed).toHaveLength(1)
  expect(found[1]!.missed[0]!.fromM).toBe(0)
  expect(Math.abs(found[1]!.missed[0]!.toM - 30)).toBeLessThan(2)
})

test('direction does not matter, crossing is not walking along, and two tracks share a lane', () => {
  const turned = lanes(15).map((line) => Float64Array.of(line[2]!, line[3]!, line[0]!, line[1]!))
  expect(states(turned, [walk])).toBe('w'.repeat(15))
  const across = Array.from({ length: 10 }, (_, n) =>
    Float64Array.of(560_990, 342_003 + 6 * n, 561_040, 342_003 + 6 * n),
  )
  expect(states(across, [walk])).toBe('s'.repeat(10))
  const [first, second] = [
    withFixes(walk, (_, i) => (i > 60 ? { x: Number.NaN } : {})),
    withFixes(walk, (_, i) => (i < 60 ? { x: Number.NaN } : {})),
  ]
  expect(states(lanes(15), [first, second])).toBe('w'.repeat(15))
})

test('a way off the plan is a straying; the turn at the end of a lane is none', () => {
  expect(compareLanes(lanes(15), [walk], 0.8).strayings).toEqual([])
  const astray = withFixes(walk, ({ x }, i) => (i >= 600 && i < 660 ? { x: x + 40 } : {}))
  const { strayings, offM } = compareLanes(lanes(15), [cleanTrack(astray, defaultCleanSettings)], 0.8)
  expect(strayings).toHaveLength(1)
  expect(Math.abs(strayings[0]!.metres - 30)).toBeLessThan(3)
  expect(Math.abs(strayings[0]!.offM - 22)).toBeLessThan(1)
  expect(offM).toBeLessThan(0.4)
})

test('no lane, no track, lanes without length', () => {
  expect(compareLanes([], [walk], 1)).toMatchObject({ lanes: [], plannedM: 0 })
  expect(compareLanes(lanes(2), [], 1)).toMatchObject({ walkedM: 0, offM: null, strayings: [] })
  expect(compareLanes([Float64Array.of(1, 1, 1, 1)], [walk], 1).lanes[0]).toMatchObject({
    lengthM: 0,
    state: 'skipped',
  })
  expect(() => compareLanes(lanes(1), [walk], 0)).toThrow(RangeError)
})
