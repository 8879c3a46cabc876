import path from 'node:path'
import sharp from 'sharp'
import { expect, onTestFinished, test } from 'vitest'
import {
  type ChancesWish,
  chancesSummaryShape,
  chancesViewShape,
  visitAccountShape,
  visitShape,
  walkColumns,
} from '#contract'
import { planarGrid } from '#core/geodesy'
import { openSurveyFile } from '#store'
import { ostn15 } from '#work'
import {
  fieldCorners,
  polygonFile,
  put,
  straightWalk,
  testFolder,
} from '../../../test/service/small-field.ts'
import { importFiles } from '../import-file.ts'
import { Jobs } from '../jobs.ts'
import { surroundings } from '../surroundings.ts'
import { paintChances } from './chance-tile.ts'
import { VisitsOfSurvey } from './visits-of-survey.ts'

const day = 86_400
const wish: ChancesWish = { only: null, gapChance: 0.5, simulations: null, seed: 1 }

/** A survey of a field with a walk on each of two days, and a find of the first. */
async function openVisits() {
  const home = testFolder()
  const file = path.join(home, 'nst.gpkg')
  const lonLat = new Float64Array(2 * fieldCorners.length)
  planarGrid(27_700, ostn15()).inverse(Float64Array.from(fieldCorners.flat()), lonLat)
  const corners = fieldCorners.map((_, i): [number, number] => [lonLat[2 * i]!, lonLat[2 * i + 1]!])
  await importFiles(file, [
    put(home, 'first.csv', straightWalk(558_010)),
    put(home, 'second.csv', straightWalk(558_006, day)),
    put(home, 'finds.csv', 'easting,northing,object,time\n558010,347020,buckle,2026-09-12T09:00:40Z\n'),
    put(home, 'field.geojson', polygonFile('field', ...corners)),
  ])
  const survey = openSurveyFile(file, surroundings)
  onTestFinished(() => survey.close())
  const jobs = new Jobs(surroundings.uuid, () => undefined)
  const told: string[] = []
  const visits = new VisitsOfSurvey(survey, {
    start: (kind, label, work) => jobs.start(kind, label, work),
    changed: () => told.push('changed'),
    better: () => told.push('better'),
  })
  return { survey, visits, told }
}

test('visits are listed with their tracks, and a change is told of', async () => {
  const { visits, told } = await openVisits()
  const list = visits.list()
  expect(list.map((visit) => visitShape.parse(visit))).toEqual(list)
  expect(list.map(({ name, tracks, findspots }) => [name, tracks.length, findspots])).toEqual([
    ['2026-09-12', 1, 1],
    ['2026-09-13', 1, 0],
  ])
  expect(visits.change(list[0]!.id, { person: 'Ann', weather: 'dry' })).toMatchObject({ person: 'Ann' })
  expect(told).toEqual(['changed'])
  expect(() => visits.change(99, { person: 'Ann' })).toThrow('There is no visit 99')
})

test('the account of a visit: its walk cleaned, its speeds, and how cover and finds grew', async () => {
  const { visits } = await openVisits()
  const [first] = visits.list()
  visits.change(first!.id, { coilM: 0.25, rateHz: 1 })
  const account = await visits.account(first!.id)
  expect(visitAccountShape.parse(account)).toEqual(account)
  expect(account.safeMS).toBeCloseTo(0.25, 12)
  // The walk is of 100 m at 0.5 m a second.
  expect(account.walkingS).toBeCloseTo(200, 6)
  const fastest = account.speeds.seconds.indexOf(Math.max(...account.speeds.seconds))
  expect([4, 5]).toContain(fastest)
  expect(Math.abs(account.tooFastM! - account.distanceM)).toBeLessThan(10)
  const end = account.growth.at(-1)!
  expect(end.finds).toBe(1)
  expect(account.growth[0]).toEqual({ atS: 0, share: 0, finds: 0 })
  // 1.5 m of a field 20 m wide, walked from end to end.
  expect(Math.abs(end.share - 1.5 / 20)).toBeLessThan(0.02)
  for (const [k, { share }] of account.growth.entries())
    expect(share).toBeGreaterThanOrEqual(account.growth[k - 1]?.share ?? 0)
  const walk = await visits.walk(first!.id)
  expect(walk).toHaveLength(account.kept * walkColumns)
  await expect(visits.account(99)).rejects.toMatchObject({ code: 'not-found' })
})

test('chances by visit and together, with tiles, gaps as an area, and a weaker visit by its own settings', async () => {
  const { survey, visits, told } = await openVisits()
  expect(visits.chances(null)).toBeNull()
  await visits.startChances(wish).done
  expect(told).toEqual(['better'])
  const both = visits.chances(null)!
  expect(chancesViewShape.parse(both)).toEqual(both)
  expect(both.stale).toBe(false)
  const png = await visits.chanceTile(both.id, 0, 0, 0)
  expect(await sharp(png!).metadata()).toMatchObject({ width: 256, height: 256 })
  expect(await visits.chanceTile('another', 0, 0, 0)).toBeNull()
  const [, second] = visits.list()
  visits.change(second!.id, { ownChance: 0.5 })
  expect(visits.chances(null)!.stale).toBe(true)
  await visits.startChances(wish).done
  const weaker = visits.chances(null)!
  expect(weaker.cover.visits[0]!.expectedShare).toBe(both.cover.visits[0]!.expectedShare)
  expect(weaker.cover.visits[1]!.expectedShare).toBeCloseTo(both.cover.visits[1]!.expectedShare / 2, 3)
  await visits.startChances({ ...wish, only: [second!.id] }).done
  const only = [second!.id]
  expect(visits.chances(only)!.cover.visits.map(({ id }) => id)).toEqual([String(second!.id)])
  const area = visits.gapsArea({ name: 'Missed', leastM2: 0, only })
  const missed = visits.chances(only)!.cover.gaps.reduce((sum, { areaM2 }) => sum + areaM2, 0)
  expect(Math.abs(area.areaM2 - missed)).toBeLessThan(0.5)
  expect(survey.undo()).toBe('drawing of area Missed')
  expect(() => visits.gapsArea({ name: 'x', leastM2: 1e9, only: null })).toThrow(
    'There is no gap of that size',
  )
})

test('chances are kept in the survey: shown after it is opened again, out of date once a sweep or a track has changed', async () => {
  const { survey, visits } = await openVisits()
  const [first, second] = visits.list()
  await visits.startChances(wish).done
  await visits.startChances({ ...wish, only: [first!.id] }).done
  const [all, one] = [visits.chances(null)!, visits.chances([first!.id])!]
  const tile = await visits.chanceTile(one.id, 0, 0, 0)
  const again = () => {
    const reopened = openSurveyFile(survey.path, surroundings, { readOnly: true })
    onTestFinished(() => reopened.close())
    const start = () => {
      throw new Error('nothing is started')
    }
    return new VisitsOfSurvey(reopened, { start, changed: () => undefined, better: () => undefined })
  }
  const later = again()
  expect([later.chances(null), later.chances([first!.id])]).toEqual([all, one])
  expect(await later.chanceTile(one.id, 0, 0, 0)).toEqual(tile)
  const kept = later.chancesKept()
  expect(kept.map((summary) => chancesSummaryShape.parse(summary))).toEqual(kept)
  expect(kept.map(({ only, stale }) => [only, stale])).toEqual([
    [null, false],
    [[first!.id], false],
  ])
  visits.change(second!.id, { weather: 'rain' })
  expect(again().chances(null)!.stale).toBe(false)
  visits.change(second!.id, { swathM: 2 })
  expect(again().chances(null)!.stale).toBe(true)
  expect(again().chances([first!.id])!.stale).toBe(false)
  survey.undo()
  expect(again().chances(null)!.stale).toBe(false)
  visits.countTrack(first!.tracks[0]!, false)
  expect(again().chances([first!.id])!.stale).toBe(true)
  expect(survey.check()).toEqual([])
})

test('a chance tile tells steps, clear below 5 % and outside the area', () => {
  const chance = Float32Array.of(0.04, 0.06, 0.5, 0.97, Number.NaN, 0.8)
  const pixels = paintChances({ columns: 6, rows: 1 }, chance, 1, 0, 0)
  expect([...pixels.subarray(0, 12)]).toEqual([0, 0, 50, 255, 150, 255, 250, 255, 0, 0, 200, 255])
})
