import type { ExportReply, PackWishesGiven } from '#contract'
import { openSurveyFile } from '#store'
import { writeOut } from '../export.ts'
import { Jobs } from '../jobs.ts'
import { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { pagesOf } from '../report.ts'
import { surroundings } from '../surroundings.ts'
import { planToExport } from './plan-export.ts'
import { PlansOfSurvey } from './plans-of-survey.ts'
import { walkSheetOf } from './walk-sheet.ts'

/** The walk pack of a plan, else of the one kept last, with layers by their ids, from a survey file to a file. Faults also: 'cannot-write'. */
export async function exportPackToFile(
  surveyPath: string,
  plan: number | undefined,
  out: string,
  wishes: PackWishesGiven = {},
): Promise<ExportReply> {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  const jobs = new Jobs(surroundings.uuid, () => {})
  try {
    const layers = new LayersOfSurvey(survey, {
      start: (kind, label, work) => jobs.start(kind, label, work),
      changed: () => {},
      better: () => {},
    })
    const { id } = planToExport(survey, plan)
    const { bytes, features } = await new PlansOfSurvey(survey, { layers, changed: () => {} }).pack(
      id,
      wishes,
    )
    writeOut(out, bytes)
    return { written: out, features }
  } finally {
    jobs.cancelAll()
    survey.close()
  }
}

/** The sheet of a plan, else of the one kept last, from a survey file to a file. Faults: SurveyError 'nothing-to-export', 'not-found', 'cannot-write'. */
export async function walkSheetToFile(
  surveyPath: string,
  out: string,
  plan?: number,
): Promise<{ written: string; pages: number }> {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  try {
    const { bytes } = await walkSheetOf(survey, plan)
    writeOut(out, bytes)
    return { written: out, pages: pagesOf(bytes) }
  } finally {
    survey.close()
  }
}
