import { expect, test } from 'vitest'
import { coverGrid } from '#core/cover'
import { defaultCleanSettings } from '#core/track'
import { visitWalk } from './visit-walk.ts'

const epsg = 27_700
const area = { epsg, polygons: [{ rings: [Float64Array.of(0, 0, 60, 0, 60, 60, 0, 60, 0, 0)] }] }
const sweep = { widthM: 1.5, maxJumpM: 10, maxJumpS: 60 }
const common = {
  area,
  clean: { ...defaultCleanSettings, errorM: 0 },
  cutDrives: false,
  coilM: 0.25,
  rateHz: 2,
  sweep,
}

/** Lanes 2 m apart, 60 m long, half a metre a second. */
function lanes(count: number, start: number, west = 3) {
  const xy: number[] = []
  for (let lane = 0; lane < count; lane++)
    for (let k = 0; k <= 60; k++) xy.push(west + 2 * lane, lane % 2 === 0 ? k : 60 - k)
  const time = Float64Array.from({ length: xy.length / 2 }, (_, i) => start + 2 * i)
  return { epsg, xy: Float64Array.from(xy), time, segmentStart: Uint32Array.of(0) }
}

test('the growth ends at the cover of the whole walk, whatever the slices of time', () => {
  const tracks = [lanes(8, 1_000_000), lanes(6, 1_000_400, 25)]
  const { growth } = visitWalk({ ...common, tracks, finds: [] })
  const grid = coverGrid(tracks, area, { ...sweep, cellM: 0.5 })
  expect(growth).toHaveLength(25)
  expect(growth.at(-1)!.share).toBeCloseTo(grid.coveredCells / grid.areaCells, 12)
})

test('speeds, stretches too fast, finds and pieces are those of the walk made', () => {
  const walk = visitWalk({
    ...common,
    tracks: [lanes(2, 1_000_000), lanes(1, 2_000_000)],
    finds: [
      { time: 1_000_010, count: 2 },
      { time: 2_000_100, count: 1 },
    ],
  })
  // Coil times sweeps is 0.5 m/s, at which it was walked: nothing but the step between two lanes, of 2 m in 2 s, is faster.
  expect(walk.safeMS).toBe(0.5)
  expect(walk.tooFastM).toBeCloseTo(2, 6)
  expect(walk.tooFastS).toBeCloseTo(2, 6)
  expect(walk.distanceM).toBeCloseTo(3 * 60 + 2, 6)
  expect(walk.speeds.seconds.reduce((sum, each) => sum + each, 0)).toBeCloseTo(walk.walkingS!, 6)
  expect(walk.growth.map(({ finds }) => finds).filter((n, i, all) => n !== all[i - 1])).toEqual([0, 2, 3])
  expect(walk.fixes.at(-1)).toBe(1)
  expect(walk.recorded).toBe(183)
})

test('without times there are places and a distance, and no speeds, no growth, nothing too fast', () => {
  const track = { ...lanes(2, 0), time: null }
  const walk = visitWalk({ ...common, tracks: [track], finds: [] })
  expect(walk).toMatchObject({ walkingS: null, tooFastM: null, tooFastS: null, growth: [] })
  expect(walk.speeds.seconds).toEqual([])
  expect(walk.fixes[2]).toBeNaN()
})
