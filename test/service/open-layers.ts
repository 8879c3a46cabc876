import path from 'node:path'
import { onTestFinished } from 'vitest'
import type { ImportedFile, Job } from '#contract'
import { createSurveyFile, openSurveyFile, type SurveyFile } from '#store'
import { Jobs } from '../../src/service/jobs.ts'
import { LayersOfSurvey } from '../../src/service/layers/layers-of-survey.ts'
import { surroundings } from '../../src/service/surroundings.ts'

export interface Open {
  readonly survey: SurveyFile
  readonly layers: LayersOfSurvey
  readonly jobs: Job[]
  /** How often a layer came to look better. */
  readonly better: () => number
}

/** A survey and its layers, open until the test ends. */
export function opened(surveyPath: string): Open {
  const survey = openSurveyFile(surveyPath, surroundings)
  const jobs: Job[] = []
  let [better, id] = [0, 0]
  const running = new Jobs(
    () => `job-${++id}`,
    (job) => jobs.push(job),
  )
  const layers = new LayersOfSurvey(survey, {
    start: (kind, label, work) => running.start(kind, label, work),
    changed: () => {},
    better: () => {
      better += 1
    },
  })
  onTestFinished(() => {
    running.cancelAll()
    survey.close()
  })
  return { survey, layers, jobs, better: () => better }
}

export function emptySurvey(folder: string): string {
  const file = path.join(folder, 'nst.gpkg')
  createSurveyFile(file, { code: 'NST', title: 'Ninestile', demo: false }, surroundings).close()
  return file
}

export const codes = ({ faults }: ImportedFile): string[] => faults.map(({ code }) => code)
