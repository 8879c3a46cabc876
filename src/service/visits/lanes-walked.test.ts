import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { lanesWalkedShape } from '#contract'
import { planarGrid } from '#core/geodesy'
import { polygonArea } from '#core/geometry'
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
import { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { PlansOfSurvey } from '../plans/plans-of-survey.ts'
import { surroundings } from '../surroundings.ts'
import { VisitsOfSurvey } from './visits-of-survey.ts'

/** A field 20 m wide with lanes 4 m apart, north and south: its middle ones were walked, the second some days later. */
async function openPlanned() {
  const home = testFolder()
  const file = path.join(home, 'nst.gpkg')
  const lonLat = new Float64Array(2 * fieldCorners.length)
  planarGrid(27_700, ostn15()).inverse(Float64Array.from(fieldCorners.flat()), lonLat)
  const corners = fieldCorners.map((_, i): [number, number] => [lonLat[2 * i]!, lonLat[2 * i + 1]!])
  await importFiles(file, [
    put(home, 'first.csv', straightWalk(558_010)),
    put(home, 'second.csv', straightWalk(558_006, 3 * 86_400)),
    put(home, 'field.geojson', polygonFile('field', ...corners)),
  ])
  const survey = openSurveyFile(file, surroundings)
  onTestFinished(() => survey.close())
  const wishes = { areaId: survey.areas()[0]!.id, spacingM: 4, bearing: 0 }
  const jobs = new Jobs(surroundings.uuid, () => undefined)
  const start: Jobs['start'] = (kind, label, work) => jobs.start(kind, label, work)
  const around = { start, changed: () => undefined, better: () => undefined }
  const plans = new PlansOfSurvey(survey, {
    layers: new LayersOfSurvey(survey, around),
    changed: around.changed,
  })
  const kept = await plans.keep({ name: 'Lanes north', wishes })
  const visits = new VisitsOfSurvey(survey, around)
  return { survey, plans, visits, kept }
}

test('lanes walked, skipped and strayed from; what was missed becomes ground or a plan, each one step of Undo', async () => {
  const { survey, plans, visits, kept } = await openPlanned()
  const asked = { plan: null, only: null, toleranceM: null }
  const all = await visits.lanesWalked(asked)
  expect(lanesWalkedShape.parse(all)).toEqual(all)
  expect(all).toMatchObject({ plan: kept.id, planName: 'Lanes north', spacingM: 4 })
  const walkedAt = all.lanes.filter(({ state }) => state === 'walked').map(({ xy }) => Math.round(xy[0]!))
  expect(walkedAt.toSorted()).toEqual([558_006, 558_010])
  expect(all.lanes.filter(({ state }) => state === 'skipped')).toHaveLength(3)
  expect(all.offM).toBeLessThan(0.2)
  expect(all.strayings).toEqual([])
  const one = await visits.lanesWalked({ ...asked, only: [survey.visits()[0]!.id], toleranceM: 0.5 })
  expect(one.lanes.filter(({ state }) => state === 'walked')).toHaveLength(1)
  const area = await visits.missedArea({ wish: asked, name: 'Missed lanes' })
  // Three lanes of five, each 4 m of the 20 m.
  expect(area.areaM2).toBeGreaterThan(0.55 * 2000)
  expect(area.areaM2).toBeLessThan(0.65 * 2000)
  expect(survey.undo()).toContain('Missed lanes')
  const made = await visits.missedPlan({ wish: asked, name: 'Missed lanes' })
  const plan = plans.list().find(({ id }) => id === made.id)!
  expect(plan.figures).toMatchObject({ lanes: 3, turns: 2, walkers: [{ lanes: 3 }] })
  expect(plan.figures!.lengthM).toBeCloseTo(all.plannedM - all.walkedM, -1)
  expect(plans.lanes(made.id).map(({ number }) => number)).toEqual([1, 2, 3])
  survey.undo()
  expect(plans.list()).toHaveLength(1)
})

test('a walk beside all lanes is a straying; no plan, no track and no lane missed are told', async () => {
  const { survey, plans, visits } = await openPlanned()
  const asked = { plan: null, only: null, toleranceM: 0.2 }
  const { lanes, strayings } = await visits.lanesWalked({ ...asked, toleranceM: 0.01 })
  expect(lanes.every(({ xy }) => xy.length >= 4)).toBe(true)
  expect(strayings.length + lanes.filter(({ state }) => state === 'walked').length).toBeGreaterThan(0)
  await expect(visits.lanesWalked({ ...asked, only: [99] })).rejects.toMatchObject({ code: 'no-track' })
  await expect(visits.lanesWalked({ ...asked, plan: 99 })).rejects.toMatchObject({ code: 'not-found' })
  await expect(visits.missedArea({ wish: { ...asked, toleranceM: 30 }, name: 'x' })).rejects.toMatchObject({
    code: 'nothing-to-export',
  })
  for (const { id } of plans.list()) plans.remove(id)
  await expect(visits.lanesWalked(asked)).rejects.toMatchObject({ code: 'no-area' })
  expect(polygonArea(survey.areas()[0]!.polygons[0]!)).toBeGreaterThan(0)
})
