import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Mark } from '#contract'
import { openSurveyFile, type SurveyFile } from '#store'
import { isOnField } from '../demo/buried.ts'
import { fromGrid, mound, toGrid } from '../demo/scenario.ts'
import { writeDemoSurvey } from '../demo-survey.ts'
import { Jobs } from '../jobs.ts'
import { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { surroundings } from '../surroundings.ts'
import { MarksOfSurvey } from './marks-of-survey.ts'

/** The demo as its user meets it: the mill mound in the dry summer and in the wet one. What is expected is where the demo laid it. */
const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
let survey: SurveyFile
let layers: LayersOfSurvey
let marks: MarksOfSurvey
beforeAll(async () => {
  const file = path.join(folder, 'demo.gpkg')
  await writeDemoSurvey(file)
  survey = openSurveyFile(file, surroundings)
  const jobs = new Jobs(surroundings.uuid, () => {})
  const start = jobs.start.bind(jobs)
  layers = new LayersOfSurvey(survey, { start, changed: () => {}, better: () => {} })
  marks = new MarksOfSurvey(survey, { layers, start, changed: () => {} })
}, 60_000)
afterAll(() => {
  survey?.close()
  rmSync(folder, { recursive: true, force: true })
})

const [easting, northing] = toGrid(mound.middle)
const off = (mark: Mark): number => Math.hypot(mark.easting - easting, mark.northing - northing)

/**
 * Wholly on the crop, off hedge, trees and pond, and said to be chance in ten square kilometres or more. What stands in the hedge is
 * no chance pattern of the ground, and is the reviewer's to reject.
 */
function isSureOnCrop({ easting: e, northing: n, diameterM, falseAlarmsPerKm2 }: Mark): boolean {
  const reach = diameterM! / 2 + 6
  const around = Array.from({ length: 24 }, (_, i) => (i * Math.PI) / 12)
  const onCrop = around.every((angle) =>
    isOnField(fromGrid(e + reach * Math.cos(angle), n + reach * Math.sin(angle))),
  )
  return onCrop && falseAlarmsPerKm2! < 0.1
}

/** Candidates on the picture of a year, the least by chance first; those of another year are forgotten before. */
async function ringsOf(year: string): Promise<Mark[]> {
  marks.removeUndecided(null)
  const layer = layers.list().find(({ takenOn }) => takenOn?.startsWith(year))!
  const sizes = { kind: 'ring', minDiameterM: 15, maxDiameterM: 40 } as const
  const view = { view: 'as-is' } as const
  await marks.search({ ...sizes, layerId: layer.id, view, tone: 'dark', most: 50 }).done
  return marks
    .list()
    .filter(({ layerId }) => layerId === layer.id)
    .toSorted((a, b) => a.falseAlarmsPerKm2! - b.falseAlarmsPerKm2!)
}

test('the mill mound is the best ring of the dry summer, where it lies and as large as it is', async () => {
  const [best, ...others] = await ringsOf('2022')
  expect(off(best!)).toBeLessThan(1)
  expect(Math.abs(best!.diameterM! / mound.ringDiameter - 1)).toBeLessThan(0.05)
  expect(best!.tone).toBe('dark')
  expect(best!.falseAlarmsPerKm2).toBeLessThan(0.1)
  expect(others.filter(isSureOnCrop)).toEqual([])
}, 120_000)

test('in the wet summer it is weak, and nothing on empty ground is taken for sure', async () => {
  const rings = await ringsOf('2024')
  const there = rings.filter((mark) => off(mark) < 6)
  expect(there).toHaveLength(1)
  expect(there[0]!.falseAlarmsPerKm2).toBeGreaterThan(0.1)
  expect(rings.filter(isSureOnCrop)).toEqual([])
}, 120_000)
