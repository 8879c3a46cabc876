import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { type VisitCoverWish, visitCoverViewShape, visitCoverWishShape } from '#contract'
import { planarGrid } from '#core/geodesy'
import { openSurveyFile, type SurveyFile } from '#store'
import { ostn15 } from '#work'
import { fieldCorners, polygonFile, put, straightWalk, testFolder } from '../../test/service/small-field.ts'
import { importFiles } from './import-file.ts'
import { surroundings } from './surroundings.ts'
import { visitCoverOfSurvey } from './visit-cover.ts'

const wish: VisitCoverWish = {
  sweep: { swathM: 2, errorM: 1, coilM: 0.25, rateHz: 1, ownChance: 0.9 },
  sweepOf: {},
  only: null,
  clean: true,
  cutDrives: false,
  gapChance: 0.3,
  simulations: null,
  seed: 1,
}
const day = 86_400

/** A survey of a field with walks on two days, one of them by two receivers, and finds of the first day. */
async function survey(): Promise<SurveyFile> {
  const home = testFolder()
  const file = path.join(home, 'nst.gpkg')
  const finds =
    'easting,northing,object,material,number,time\n558010,347020,buckle,copper alloy,1,2026-09-12T09:00:40Z\n' +
    '558010,347050,ball,lead,2,2026-09-12T09:03:00Z\n'
  await importFiles(file, [
    put(home, 'first.csv', straightWalk(558_010)),
    put(home, 'twin.csv', straightWalk(558_011)),
    put(home, 'second.csv', straightWalk(558_006, day)),
    put(home, 'finds.csv', finds),
    put(home, 'field.geojson', fieldFile()),
  ])
  const open = openSurveyFile(file, surroundings)
  onTestFinished(() => open.close())
  return open
}

function fieldFile(): string {
  const lonLat = new Float64Array(2 * fieldCorners.length)
  planarGrid(27_700, ostn15()).inverse(Float64Array.from(fieldCorners.flat()), lonLat)
  return polygonFile(
    'field',
    ...fieldCorners.map((_, i): [number, number] => [lonLat[2 * i]!, lonLat[2 * i + 1]!]),
  )
}

test('visits by day, with their chances, finds, twins and questions, in the shape of the contract', async () => {
  const open = await survey()
  const { view, chance } = await visitCoverOfSurvey(open, wish)
  expect(visitCoverViewShape.parse(view)).toEqual(view)
  expect(view.visits.map(({ id, tracks, finds }) => [id, tracks.length, finds])).toEqual([
    ['1', 2, 2],
    ['2', 1, 0],
  ])
  const [first, second] = view.visits
  expect(first!.walkingS).toBeCloseTo(400, 6)
  expect(first!.findsPerHour).toBeCloseTo((2 * 3600) / 400, 6)
  expect(Math.abs(first!.tooFastM! - 200)).toBeLessThan(10)
  expect(first!.fast.map(({ track }) => track)).toEqual(first!.tracks)
  expect(first!.findsPerCoveredHectare).toBeCloseTo(2 / (first!.expectedShare * 0.2), 6)
  expect(view.all.expectedShare).toBeGreaterThan(Math.max(first!.expectedShare, second!.expectedShare))
  expect(view.twins).toMatchObject([{ shiftM: expect.closeTo(1, 1) }])
  expect(Math.abs(view.twins[0]!.offsetS)).toBeLessThan(0.5)
  // The ball was found 80 s after the walker had passed it, 40 m further on.
  expect(view.questions).toEqual([])
  expect(chance).toHaveLength(view.frame.columns * view.frame.rows)
  expect(view.gaps.length).toBeGreaterThan(0)
  expect(view.gaps[0]!.areaM2).toBeGreaterThanOrEqual(view.gaps.at(-1)!.areaM2)
})

test('one visit swept otherwise, one visit only; what did not change is not done again', async () => {
  const open = await survey()
  const both = await visitCoverOfSurvey(open, wish)
  const again = await visitCoverOfSurvey(open, wish)
  expect(again.done).toEqual([])
  const weaker = { ...wish, sweepOf: { 2: { ...wish.sweep, ownChance: 0.5 } } }
  const changed = await visitCoverOfSurvey(open, weaker)
  expect(changed.view.visits[0]!.expectedShare).toBe(both.view.visits[0]!.expectedShare)
  expect(changed.view.visits[1]!.expectedShare).toBeLessThan(both.view.visits[1]!.expectedShare)
  expect(changed.done.filter((name) => name.startsWith('chance '))).toHaveLength(1)
  const only = await visitCoverOfSurvey(open, { ...wish, only: ['2'] })
  expect(only.view.visits.map(({ id }) => id)).toEqual(['2'])
  expect(only.view.all).toMatchObject({ expectedShare: both.view.visits[1]!.expectedShare })
  await expect(visitCoverOfSurvey(open, { ...wish, only: ['99'] })).rejects.toMatchObject({
    code: 'no-track',
  })
})

test('the wish is checked by its shape', () => {
  expect(visitCoverWishShape.parse(wish)).toEqual(wish)
  expect(visitCoverWishShape.safeParse({ ...wish, gapChance: 0 }).success).toBe(false)
})
