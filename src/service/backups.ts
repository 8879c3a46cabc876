import { mkdirSync } from 'node:fs'
import path from 'node:path'
import { backupName, rotateBackups, type SurveyFile } from '#store'
import { surroundings } from './surroundings.ts'

const kept = 5
const day = 24 * 60 * 60 * 1000

/** Writes one backup of the survey into `backups` beside it and removes the oldest past five. The survey stays in use meanwhile. */
async function backUp(survey: SurveyFile): Promise<string> {
  const folder = path.join(path.dirname(survey.path), 'backups')
  mkdirSync(folder, { recursive: true })
  const file = path.join(folder, backupName(survey.path, surroundings.now()))
  await survey.backup(file)
  rotateBackups(folder, kept)
  return file
}

/** A backup now and once a day while the survey is open. Trouble is told by `complain` and does not stop the work. */
export class Backups {
  readonly #complain: (text: string) => void
  #timer: NodeJS.Timeout | null = null
  #watched: SurveyFile | null = null

  constructor(complain: (text: string) => void) {
    this.#complain = complain
  }

  watch(survey: SurveyFile): void {
    this.stop()
    this.#watched = survey
    const once = (): void => {
      backUp(survey).catch((error: Error) => {
        // One that is closed meanwhile breaks its backup off, which is no trouble.
        if (this.#watched !== survey) return
        this.#complain(`no backup of ${path.basename(survey.path)} could be made: ${error.message}`)
      })
    }
    once()
    this.#timer = setInterval(once, day)
    this.#timer.unref()
  }

  stop(): void {
    if (this.#timer) clearInterval(this.#timer)
    this.#watched = null
  }
}
