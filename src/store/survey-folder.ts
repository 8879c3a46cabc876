import { accessSync, closeSync, constants, openSync, readSync, rmSync, statSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { SurveyError } from '#core/faults'

/** True where the file and its folder (for the write-ahead log) may be written. */
export function isWritable(path: string): boolean {
  try {
    accessSync(path, constants.R_OK | constants.W_OK)
    accessSync(dirname(path), constants.W_OK | constants.X_OK)
    return true
  } catch {
    return false
  }
}

/** True where a write-ahead log beside the file holds changes that are not in the file yet. */
export function hasUnfinishedLog(path: string): boolean {
  return (statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0
}

/** Faults: SurveyError survey-missing, not-a-survey, for what is not even an SQLite file. */
export function assertSqliteFile(path: string): void {
  const name = basename(path)
  const stat = statSync(path, { throwIfNoEntry: false })
  if (stat === undefined) {
    throw new SurveyError(
      'survey-missing',
      `There is no file ${name} in ${dirname(path)}; check the name and the folder.`,
    )
  }
  const notASurvey = (why: string) => new SurveyError('not-a-survey', `${name} is not a survey: ${why}`)
  if (!stat.isFile()) throw notASurvey('it is a folder or a device; name the .gpkg file itself.')
  if (stat.size === 0) throw notASurvey('it is empty; remove it, or start the survey under another name.')
  if (firstBytes(path, 16) !== 'SQLite format 3\0') {
    throw notASurvey('it does not start as a GeoPackage does; choose the .gpkg file of a survey.')
  }
}

function firstBytes(path: string, count: number): string {
  try {
    const file = openSync(path, 'r')
    try {
      const bytes = Buffer.alloc(count)
      return bytes.toString('latin1', 0, readSync(file, bytes, 0, count, 0))
    } finally {
      closeSync(file)
    }
  } catch (cause) {
    const sentence = `${basename(path)} cannot be read; check its permissions.`
    throw new SurveyError('survey-missing', sentence, { cause })
  }
}

/** Takes the name for a new survey, so that no other program can. Faults: SurveyError survey-exists, disk-full, cannot-write. */
export function takeName(path: string): void {
  const name = basename(path)
  try {
    closeSync(openSync(path, 'wx'))
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code
    if (code === 'EEXIST') {
      throw new SurveyError('survey-exists', `${name} is there already; choose another name.`, { cause })
    }
    if (code === 'ENOSPC') {
      throw new SurveyError(
        'disk-full',
        `The disk is full, so ${name} was not made; make room, then try again.`,
        { cause },
      )
    }
    throw new SurveyError(
      'cannot-write',
      `${name} cannot be made in ${dirname(path)}; check that the folder is there and that you may write in it.`,
      { cause },
    )
  }
}

export function removeSurveyFiles(path: string): void {
  for (const end of ['', '-wal', '-shm', '-journal']) rmSync(`${path}${end}`, { force: true })
}
