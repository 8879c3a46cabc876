import path from 'node:path'
import { laneFiguresShape, planWishesShape } from '#contract'
import { SurveyError } from '#core/faults'
import { walkSheet } from '#report'
import type { SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { surveyGrid } from '../ground.ts'
import { constraintSets } from '../land/constraint-shapes.ts'
import { targetView } from '../marks/mark-views.ts'
import { surroundings } from '../surroundings.ts'
import { areaView } from '../views.ts'
import { planToExport } from './plan-export.ts'
import { keptLanes } from './planned-lanes.ts'
import { walkCautions } from './walk-pack.ts'
import { clashesNow } from './work-out-plan.ts'

/** The sheet of a plan to take out, else of the plan kept last. Faults: SurveyError 'nothing-to-export', 'not-found'. */
export async function walkSheetOf(survey: SurveyFile, planId?: number): Promise<MadeFile> {
  const plan = planToExport(survey, planId)
  const grid = surveyGrid(survey)
  if (grid === null) throw new SurveyError('nothing-to-export', 'The survey does not know where it lies yet.')
  const { code, title, demo } = survey.identity()
  const area = survey.areas().find(({ id }) => id === plan.areaId)
  const bytes = await walkSheet({
    code,
    title,
    demo,
    plan: plan.name,
    area: area ? areaView(area, grid) : null,
    lanes: keptLanes(survey.land.lanes(plan.id), grid),
    figures: laneFiguresShape.safeParse(plan.figures).data ?? null,
    bearingFrom: planWishesShape.safeParse(plan.settings).data?.bearingFrom ?? null,
    targets: survey.targets().flatMap((target) => targetView(target, grid) ?? []),
    constraints: constraintSets(survey.land.constraints(), grid),
    avoided: survey
      .areas()
      .filter(({ kind }) => kind === 'no-go' || kind === 'hazard')
      .map((each) => areaView(each, grid)),
    cautions: [...clashesNow(survey, plan), ...walkCautions],
    gridName: grid.name,
    madeAt: surroundings.now(),
  })
  const stem = path.basename(survey.path, path.extname(survey.path))
  return { fileName: `${stem}-walk-${plan.id}.pdf`, mediaType: 'application/pdf', bytes, features: 1 }
}
