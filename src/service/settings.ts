import { defaultSettings, type Settings, settingsShape } from '#contract'
import { SurveyError } from '#core/faults'
import type { SurveyFile } from '#store'

/** The survey's settings; a value that is missing or no longer allowed falls back to the default of today. */
export function settingsOf(survey: SurveyFile): Settings {
  const stored = survey.settings()
  const entries = Object.entries(settingsShape.shape).map(([key, shape]) => {
    const read = shape.safeParse(stored[key])
    return [key, read.success ? read.data : defaultSettings[key as keyof Settings]]
  })
  return settingsShape.parse(Object.fromEntries(entries))
}

const names: Record<keyof Settings, string> = {
  swathM: 'The swath width',
  cellM: 'The cell',
  maxJumpM: 'The longest step',
  maxJumpS: 'The longest time between fixes',
  minGapM2: 'The smallest gap',
}
const ranges: Record<keyof Settings, string> = {
  swathM: 'above 0 and up to 20 m',
  cellM: 'above 0 and up to 50 m',
  maxJumpM: 'above 0 and up to 1,000 m',
  maxJumpS: 'above 0 and up to 86,400 s',
  minGapM2: 'from 0 to 1,000,000 m²',
}

/** Settings checked and changed. Faults: SurveyError('setting-out-of-range'), and then nothing is changed. */
export function changeSettings(survey: SurveyFile, patch: Partial<Settings>): Settings {
  for (const key of Object.keys(patch) as (keyof Settings)[]) {
    if (!settingsShape.shape[key]?.safeParse(patch[key]).success) {
      throw new SurveyError(
        'setting-out-of-range',
        `${names[key]} must be ${ranges[key]}, not ${String(patch[key])}.`,
      )
    }
  }
  survey.changeSettings(patch)
  return settingsOf(survey)
}
