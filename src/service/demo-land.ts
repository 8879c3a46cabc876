import { createHash } from 'node:crypto'
import { planarGrid } from '#core/geodesy'
import { readGeoJson } from '#formats/geojson'
import type { SurveyFile } from '#store'
import { ostn15 } from '#work'
import { demoGroundNotes, demoNoGo, demoPermission, demoServices, demoWaterMain } from './demo/index.ts'
import { constraintsOf } from './land/constraint-shapes.ts'
import { placeContent } from './place.ts'
import { keepPlan } from './plans/work-out-plan.ts'

/**
 * The land and the plan of the demo survey, as a user would have written them down: leave to search, a part to be left alone over the field's
 * edge, a water main that the field comes too near to, and one plan along the furrows.
 */
export async function addDemoLand(survey: SurveyFile): Promise<void> {
  const grid = planarGrid(27_700, ostn15())
  const [field] = survey.areas()
  if (!field) throw new Error('the demo has no field')
  survey.addArea({ ...demoNoGo(grid), given: null })
  const { id } = survey.land.addPermission({ ...demoPermission, areaId: field.id, polygons: null })
  for (const note of demoGroundNotes) survey.land.addGroundNote({ permissionId: id, ...note })
  const { name, bytes } = demoServices(grid)
  const content = readGeoJson(bytes, { fileName: name })
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const facts = constraintsOf(placeContent(content, grid).placed, demoWaterMain.kind, demoWaterMain.clearM)
  survey.land.addConstraints({ name, kind: content.kind, bytes, sha256 }, facts)
  const bearingFrom = { by: 'given', layer: null, spreadDeg: null } as const
  await keepPlan(survey, {
    name: 'October, along the furrows',
    wishes: { areaId: field.id, spacingM: 2, bearing: 75, bearingFrom, day: '2026-10-10', keepClearM: 2 },
  })
}
