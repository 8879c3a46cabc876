import { basename } from 'node:path'
import { isSurveyError, SurveyError } from '#core/faults'

/** Primary result codes of SQLite that the world can cause (sqlite.org/rescode.html). */
const busy = 5
const locked = 6
const readOnly = 8
const ioError = 10
const corrupt = 11
const full = 13
const cannotOpen = 14
const notDatabase = 26

/** SQLite's primary result code of an error, or null where the error is not SQLite's. */
export function sqliteCode(error: unknown): number | null {
  const extended = error instanceof Error && 'errcode' in error ? error.errcode : null
  return typeof extended === 'number' ? extended & 0xff : null
}

/** The error to throw in place of `error`: a SurveyError where SQLite speaks of the world, else the error itself. */
export function surveyFault(error: unknown, path: string): unknown {
  if (isSurveyError(error)) return error
  const name = basename(path)
  const fault = (code: ConstructorParameters<typeof SurveyError>[0], sentence: string) =>
    new SurveyError(code, sentence, { cause: error })
  switch (sqliteCode(error)) {
    case busy:
    case locked:
      return fault(
        'survey-locked',
        `Another program has held ${name} locked for five seconds; close it there or wait, then try again.`,
      )
    case readOnly:
      return fault(
        'survey-read-only',
        `${name} cannot be written; copy it to a folder where you may write, or change its permissions.`,
      )
    case full:
      return fault(
        'disk-full',
        `The disk that holds ${name} is full; nothing was changed. Make room, then try again.`,
      )
    case corrupt:
    case notDatabase:
      return fault(
        'survey-damaged',
        `${name} is damaged; keep it, and open the latest backup of the survey instead.`,
      )
    case ioError:
    case cannotOpen:
      return fault(
        'cannot-write',
        `${name} or a file beside it (${name}-wal, ${name}-shm) cannot be read or written; nothing was changed. Check the disk and its permissions.`,
      )
    default:
      return error
  }
}
