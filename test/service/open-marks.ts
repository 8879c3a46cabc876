import path from 'node:path'
import type { Job } from '#contract'
import { importFiles } from '../../src/service/import-file.ts'
import { Jobs } from '../../src/service/jobs.ts'
import { type MarkFinders, usualFinders } from '../../src/service/marks/mark-finders.ts'
import { MarksOfSurvey } from '../../src/service/marks/marks-of-survey.ts'
import { opened } from './open-layers.ts'
import { type DrawnRing, folderForTest, ringPicture } from './pictures.ts'

/** A survey of one picture, `dry.png`, with rings drawn on it, and its marks; finders stand in for those that really look. `told` hears of every step of a search. */
export async function openMarks(
  rings: readonly DrawnRing[],
  finders: Partial<MarkFinders> = {},
  told: (job: Job) => void = () => {},
) {
  const folder = folderForTest()
  const picture = await ringPicture(folder, 'dry', rings)
  const survey = path.join(folder, 'nst.gpkg')
  await importFiles(survey, [picture, picture.replace('.png', '.pgw'), picture.replace('.png', '.prj')])
  const open = opened(survey)
  let id = 0
  const jobs = new Jobs(
    () => `search-${++id}`,
    (job) => {
      open.jobs.push(job)
      told(job)
    },
  )
  const start = jobs.start.bind(jobs)
  const marks = new MarksOfSurvey(
    open.survey,
    { layers: open.layers, changed: () => {}, start },
    { ...usualFinders, ...finders },
  )
  return { ...open, marks, cancel: (job: string) => jobs.cancel(job) }
}
