import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { planarGrid } from '#core/geodesy'
import { createSurveyFile } from '#store'
import { ostn15, type WorkOptions } from '#work'
import { coverOfSurvey } from './cover-survey.ts'
import { demoFiles, demoNames } from './demo/index.ts'
import { importFile } from './import-file.ts'
import { surroundings } from './surroundings.ts'

/** One seed for everybody, so that the demo of the guide is the demo on the screen. */
const seed = 1

/**
 * Writes the demo survey as a user would have made it: ordinary files are imported one after another and the cover is worked
 * out. Faults: SurveyError 'survey-exists', 'cannot-write'; nothing is left half-written.
 */
export async function writeDemoSurvey(
  surveyPath: string,
  options: WorkOptions = {},
): Promise<{ written: string }> {
  const survey = createSurveyFile(
    surveyPath,
    { code: demoNames.code, title: demoNames.title, demo: true },
    surroundings,
  )
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-demo-'))
  try {
    const files = demoFiles(seed, planarGrid(27_700, ostn15()))
    for (const [i, { name, bytes }] of files.entries()) {
      const file = path.join(folder, name)
      writeFileSync(file, bytes)
      const progress = (done: number, label: string): void =>
        options.progress?.((i + done) / (files.length + 1), label)
      await importFile(survey, name, file, { ...options, progress })
    }
    await coverOfSurvey(survey, options)
    survey.close()
    return { written: surveyPath }
  } catch (error) {
    survey.close()
    for (const end of ['', '-wal', '-shm']) rmSync(`${surveyPath}${end}`, { force: true })
    throw error
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
