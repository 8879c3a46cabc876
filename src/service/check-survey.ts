import { openSurveyFile } from '#store'
import { checkPhotographs } from './finds/check-photographs.ts'
import { surroundings } from './surroundings.ts'

/** What `lynchet check` says of a survey. Reads the whole file and every photograph beside it; changes nothing. */
export function checkSurvey(surveyPath: string): { ok: boolean; problems: { code: string; text: string }[] } {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  try {
    const problems = [...survey.check(), ...checkPhotographs(survey)].map(({ code, text }) => ({
      code,
      text,
    }))
    return { ok: problems.length === 0, problems }
  } finally {
    survey.close()
  }
}
