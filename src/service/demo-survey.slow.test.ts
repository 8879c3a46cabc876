import { existsSync, readdirSync, rmSync, statSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { opened } from '../../test/service/open-layers.ts'
import { folderForTest, pixelsOf } from '../../test/service/pictures.ts'
import { checkSurvey } from './check-survey.ts'
import { writeDemoSurvey } from './demo-survey.ts'

test('the demo survey is one sound file with three layers, which can be seen wherever it is carried', async () => {
  const folder = folderForTest()
  const file = path.join(folder, 'demo.gpkg')
  expect(await writeDemoSurvey(file)).toEqual({ written: file })
  expect(readdirSync(folder).toSorted()).toEqual(['.cache', 'demo.gpkg'])
  expect(statSync(file).size).toBeLessThan(13_000_000)
  expect(checkSurvey(file)).toMatchObject({ ok: true, problems: [] })
  rmSync(path.join(folder, '.cache'), { recursive: true })
  const { survey, layers } = opened(file)
  expect(
    survey
      .visits()
      .every(({ person, coilM, rateHz }) => person !== null && coilM !== null && rateHz !== null),
  ).toBe(true)
  expect(survey.layers().flatMap(({ files }) => files.map(({ path: at }) => existsSync(at)))).toEqual([
    ...[false, false, false],
  ])
  expect(layers.list()).toMatchObject([
    {
      name: 'Terrain model, 1 m',
      kind: 'terrain',
      takenOn: '2023-02-07',
      inside: true,
      found: true,
      pixelM: 1,
    },
    {
      name: 'From the air, dry summer 2022',
      kind: 'image',
      takenOn: '2022-07-14',
      inside: true,
      pixelM: 0.25,
    },
    {
      name: 'From the air, wet summer 2024',
      kind: 'image',
      takenOn: '2024-06-20',
      inside: true,
      pixelM: 0.25,
    },
  ])
  const [permission] = survey.land.permissions()
  expect(permission).toMatchObject({ startsOn: '2026-09-01', areaId: survey.areas()[0]!.id })
  expect(survey.land.groundNotes()).toHaveLength(3)
  expect(survey.areas().map(({ kind }) => kind)).toEqual(['search', 'no-go'])
  const [plan, another] = survey.land.plans()
  expect(another).toBeUndefined()
  expect(plan!.clashes[0]).toMatch(
    /^Lane \d+ is \d+ m from Water main \(buried service\); 8 m were to be kept\./,
  )
  expect(survey.land.lanes(plan!.id).length).toBeGreaterThan(80)
  for (const { id, levels, tileM, bounds } of layers.list()) {
    const { png, whole } = await layers.tile(id, { level: levels - 1, column: 0, row: 0 }, null)
    expect(whole).toBe(true)
    const { at } = await pixelsOf(png)
    const [west, south, east, north] = bounds!
    const pixelM = tileM * 2 ** (levels - 1)
    const middle = at(Math.floor((east - west) / 2 / pixelM), Math.floor((north - south) / 2 / pixelM))
    expect(middle.at(-1)).toBe(255)
  }
})
