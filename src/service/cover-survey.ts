import type { CoverView } from '#contract'
import { SurveyError } from '#core/faults'
import type { SurveyFile } from '#store'
import { coverInThreads, type WorkOptions } from '#work'
import { searchGround, surveyGrid } from './ground.ts'
import { settingsOf } from './settings.ts'
import { surroundings } from './surroundings.ts'
import { latestCoverView } from './survey-view.ts'

/**
 * Works the cover of a survey out anew, from all its walked tracks and search areas with its settings, and keeps it in place of the
 * last one. A cancel or a fault leaves the last one as it was.
 * Faults: SurveyError 'no-area', 'no-track', 'raster-too-large', 'setting-out-of-range', 'cancelled'.
 */
export async function coverOfSurvey(survey: SurveyFile, options: WorkOptions = {}): Promise<CoverView> {
  const grid = surveyGrid(survey)
  if (grid === null)
    throw new SurveyError('no-track', 'There is no walked track yet: bring in a GPX file first.')
  const groundRevision = survey.groundRevision()
  const settings = settingsOf(survey)
  const { swathM: widthM, cellM, maxJumpM, maxJumpS, minGapM2 } = settings
  const walked = survey.tracks().filter((track) => track.walked)
  const tracks = walked.map(({ id }) => {
    const { epsg, xy, segmentStart, time } = survey.track(id)
    return { epsg, xy, segmentStart, time }
  })
  const area = await searchGround(survey, grid)
  const outcome = await coverInThreads(
    { tracks, area, widthM, cellM, maxJumpM, maxJumpS, minGapM2, chance: null },
    options,
  )
  survey.saveCover({
    id: surroundings.uuid(),
    settings,
    figures: outcome.figures,
    frame: outcome.frame,
    passes: outcome.deflated,
    groundRevision,
    gaps: outcome.gaps.map(({ areaM2 }, i) => ({ areaM2, polygon: outcome.gapsOnWgs84[i]! })),
  })
  return latestCoverView(survey, grid)!
}
