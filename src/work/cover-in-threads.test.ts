import { expect, test } from 'vitest'
import { coverChance, coverSpread } from '#core/cover'
import { defaultCleanSettings } from '#core/track'
import { areaOf, box } from '../../test/cover/planar-shapes.ts'
import { recordedWalk } from '../../test/track/recorded-walk.ts'
import { coverInThreads } from './cover-in-threads.ts'
import type { CoverInput } from './cover-input.ts'

const walk = recordedWalk({ seconds: 900, noiseM: 0.1, stops: [[100, 160]] })
const other = recordedWalk({ seconds: 500, noiseM: 0.1, seed: 3 })
const area = areaOf(box(560_995, 341_995, 561_015, 342_065))
const input: Omit<CoverInput, 'threads'> = {
  tracks: [walk, other],
  area,
  widthM: 1.5,
  cellM: 0.2,
  maxJumpM: 10,
  maxJumpS: 60,
  minGapM2: 1,
  chance: { errorM: 1.5, coilM: 0.25, rateHz: 1 },
}
const options = { widthM: 1.5, cellM: 0.2, maxJumpM: 10, maxJumpS: 60, errorM: 1.5, coilM: 0.25, rateHz: 1 }

test('threads come to what one thread comes to', async () => {
  const spread = { simulations: 9, seed: 4, memoryS: 100 }
  const found = await coverInThreads({ ...input, spread, gapChance: 0.5 })
  const alone = coverChance([walk, other], area, options)
  expect(found.chance!.chance).toEqual(alone.chance)
  expect(found.figures.expectedShare).toBe(alone.expectedShare)
  expect(found.spread).toEqual(coverSpread([walk, other], area, { ...options, ...spread }))
  expect(found.chance!.gaps!.length).toBe(found.chance!.gapsOnWgs84!.length)
  expect(found.figures.tooFastM).toBeGreaterThan(100)
})

test('a changed setting does again only what it touches, and the outcome is that of a fresh sum', async () => {
  const first = await coverInThreads(input)
  const again = await coverInThreads({ ...input, kept: first.kept })
  expect(again.done).toEqual([])
  expect(again.figures).toEqual({ ...first.figures, seconds: again.figures.seconds })
  const smaller = await coverInThreads({ ...input, minGapM2: 5, kept: first.kept })
  expect(smaller.done).toEqual(['gaps'])
  const chance = { errorM: 1.5, coilM: 0.25, rateHz: 1, ownChance: 0.8 }
  const weaker = await coverInThreads({ ...input, chance, kept: first.kept })
  expect(weaker.done.map((name) => name.split(' ')[0])).toEqual(['tracks', 'chance'])
  const fresh = await coverInThreads({ ...input, chance })
  expect(weaker.chance!.chance).toEqual(fresh.chance!.chance)
  const wider = await coverInThreads({ ...input, widthM: 2, kept: first.kept })
  expect(wider.done.map((name) => name.split(' ')[0])).toEqual(['passes', 'gaps', 'chance', 'deflated'])
})

test('visits are independent, each with its own settings; changing one leaves the other', async () => {
  const wish = { errorM: 1, coilM: null, rateHz: null }
  const visits = [
    { tracks: [0], widthM: 1.5, chance: wish },
    { tracks: [1], widthM: 1.2, chance: { ...wish, errorM: 2 } },
  ]
  const found = await coverInThreads({ ...input, chance: null, visits })
  const { byVisit, expectedShare, chance } = found.chance!
  expect(byVisit).toHaveLength(2)
  expect(expectedShare).toBeGreaterThan(Math.max(byVisit[0]!.expectedShare, byVisit[1]!.expectedShare))
  expect(chance.every((p) => Number.isNaN(p) || (p >= 0 && p <= 1))).toBe(true)
  const changed = await coverInThreads({
    ...input,
    chance: null,
    visits: [visits[0]!, { ...visits[1]!, widthM: 1.3 }],
    kept: found.kept,
  })
  expect(changed.done).toHaveLength(1)
  expect(changed.chance!.byVisit[0]).toEqual(byVisit[0])
})

test('cleaned tracks carry their errors, and their account', async () => {
  const found = await coverInThreads({ ...input, clean: defaultCleanSettings })
  expect(found.accounts).toHaveLength(2)
  expect(found.accounts[0]!.stops).toHaveLength(1)
  expect(found.figures.distanceM).toBeLessThan(coverDistance(walk.xy) + coverDistance(other.xy))
  expect(found.figures.notes.join(' ')).toContain('the position error of each fix')
})

const coverDistance = (xy: Float64Array): number => {
  let sum = 0
  for (let i = 2; i < xy.length; i += 2) sum += Math.hypot(xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!)
  return sum
}

test('a track of another country counts for nothing, and is a fault where there is no other', async () => {
  // San Francisco, which the National Grid does not reach.
  const abroad = {
    epsg: 4326,
    xy: Float64Array.of(-122.4, 37.8, -122.401, 37.8),
    segmentStart: Uint32Array.of(0),
    time: null,
  }
  const both = await coverInThreads({ ...input, tracks: [walk, abroad], clean: defaultCleanSettings })
  expect(both.accounts[1]!.rejected['no-place']).toBe(2)
  expect(both.figures.coveredShare).toBeGreaterThan(0.3)
  const alone = coverInThreads({ ...input, tracks: [abroad], clean: defaultCleanSettings })
  await expect(alone).rejects.toMatchObject({ code: 'no-overlap' })
  const asRecorded = await coverInThreads({ ...input, tracks: [abroad] })
  expect(asRecorded.figures).toMatchObject({ coveredShare: 0, expectedShare: 0 })
})

test('progress rises to the end, whatever was asked for', async () => {
  for (const asked of [
    { chance: null },
    {},
    { spread: { simulations: 3, seed: 1, memoryS: 60 }, gapChance: 0.5 },
  ]) {
    const told: number[] = []
    await coverInThreads({ ...input, ...asked }, { progress: (done) => told.push(done) })
    expect(told).toEqual(told.toSorted((a, b) => a - b))
    expect(told.at(-1)).toBeLessThanOrEqual(1)
  }
})

test('a cancel ends the sum with its own fault', async () => {
  const ends = new AbortController()
  const sum = coverInThreads(
    { ...input, spread: { simulations: 10_000, seed: 1, memoryS: 60 } },
    { signal: ends.signal },
  )
  setTimeout(() => ends.abort(), 300)
  await expect(sum).rejects.toMatchObject({ code: 'cancelled' })
})
