import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import type { StoredPhotograph, SurveyFile } from '#store'
import { photographFile } from './photograph-files.ts'

interface Problem {
  readonly code: string
  readonly text: string
}

/** Why a photograph is not what was added; null where it is. Its bytes inside the survey are among the originals, which are checked there. */
function problemOf(surveyPath: string, photograph: StoredPhotograph): Problem | null {
  const { name, path, sha256, originalId } = photograph
  if (originalId !== null) return null
  const file = photographFile(surveyPath, photograph)
  if (file === null)
    return { code: 'missing', text: `The photograph ${name} is no longer where it was (${path}).` }
  try {
    const found = createHash('sha256').update(readFileSync(file)).digest('hex')
    return found === sha256
      ? null
      : { code: 'changed', text: `The photograph ${name} is no longer what was added (${file}).` }
  } catch (cause) {
    return {
      code: 'unreadable',
      text: `The photograph ${name} cannot be read (${file}): ${(cause as Error).message}.`,
    }
  }
}

/** Photographs whose files are gone, changed or unreadable. Cost: reads every file whole, one at a time; a file that several finds share once. */
export function checkPhotographs(survey: SurveyFile): Problem[] {
  const seen = new Set<string>()
  const problems: Problem[] = []
  for (const { id, photographs } of survey.catalogue.all()) {
    if (photographs === 0) continue
    for (const photograph of survey.catalogue.photographs(id)) {
      if (seen.has(photograph.sha256)) continue
      seen.add(photograph.sha256)
      const problem = problemOf(survey.path, photograph)
      if (problem !== null) problems.push(problem)
    }
  }
  return problems
}
