import path from 'node:path'
import { SurveyError } from '#core/faults'
import { landownerReport } from '#report'
import { openSurveyFile, type SurveyFile } from '#store'
import type { MadeFile } from './desk-service.ts'
import { writeOut } from './export.ts'
import { surveyGrid } from './ground.ts'
import { surroundings } from './surroundings.ts'
import { surveyView } from './survey-view.ts'
import { TrackLines } from './track-lines.ts'
import { areaView, findspotViews, gapView, trackView } from './views.ts'

/** Finer than a line of the plan can show. */
const planToleranceM = 0.5

/** The landowner's report of a survey as PDF: the ground covered and what kinds of things were found, no findspots. */
export async function landownerReportOf(survey: SurveyFile): Promise<MadeFile> {
  const grid = surveyGrid(survey)
  if (grid === null) throw new SurveyError('nothing-to-export', 'The survey holds nothing to report on yet.')
  const lines = new TrackLines()
  const tracks = survey.tracks().map(trackView)
  const walked = tracks.filter((track) => track.walked)
  const bytes = await landownerReport({
    survey: surveyView(survey),
    areas: survey
      .areas()
      .filter(({ kind }) => kind === 'search')
      .map((area) => areaView(area, grid)),
    gaps: survey.gaps().map((gap) => gapView(gap, grid)),
    tracks,
    trackLines: walked.map(({ id }) => lines.line(survey, grid, id, planToleranceM)),
    findspots: findspotViews(survey, grid),
    madeAt: surroundings.now(),
  })
  const stem = path.basename(survey.path, path.extname(survey.path))
  return { fileName: `${stem}-landowner.pdf`, mediaType: 'application/pdf', bytes, features: 1 }
}

/** The same, from a survey file to a file. Faults: also 'cannot-write'. */
export async function reportToFile(
  surveyPath: string,
  out: string,
): Promise<{ written: string; pages: number }> {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  try {
    const { bytes } = await landownerReportOf(survey)
    writeOut(out, bytes)
    return { written: out, pages: pagesOf(bytes) }
  } finally {
    survey.close()
  }
}

/** Pages of a PDF by its page objects. */
function pagesOf(pdf: Uint8Array): number {
  return [...new TextDecoder('latin1').decode(pdf).matchAll(/\/Type \/Page\b(?!s)/g)].length
}
