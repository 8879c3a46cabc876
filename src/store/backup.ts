import { closeSync, existsSync, fsyncSync, openSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { basename, join } from 'node:path'
import { backup, DatabaseSync } from 'node:sqlite'
import { SurveyError } from '#core/faults'

const stamp = /^(?<survey>.+)\.(?<time>\d{8}T\d{6}Z)\.backup\.gpkg$/

/** File name of a backup: survey.20260314T101500Z.backup.gpkg, so that names sort by time. */
export function backupName(surveyPath: string, now: Date): string {
  const time = now.toISOString().replace(/[-:]|\.\d+/g, '')
  return `${basename(surveyPath).replace(/\.gpkg$/i, '')}.${time}.backup.gpkg`
}

/**
 * Copies the open survey by SQLite's online backup: one consistent moment, while others read and write. The copy is one
 * file (no write-ahead log beside it) and takes its name only when it is complete. Faults: SurveyError survey-exists.
 */
export async function copySurvey(from: DatabaseSync, toPath: string): Promise<void> {
  if (existsSync(toPath)) {
    throw new SurveyError('survey-exists', `${basename(toPath)} is there already; nothing was overwritten.`)
  }
  const partial = `${toPath}.partial`
  try {
    rmSync(partial, { force: true })
    await copyInPeace(from, partial)
    const copy = new DatabaseSync(partial)
    copy.exec('PRAGMA journal_mode = DELETE')
    copy.close()
    const file = openSync(partial, 'r+')
    fsyncSync(file)
    closeSync(file)
    renameSync(partial, toPath)
  } catch (error) {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(`${partial}${end}`, { force: true })
    throw error
  }
}

/** SQLITE_BUSY, SQLITE_LOCKED, and 0: Node's word for a step that met a write of this same connection. */
const passing: ReadonlySet<unknown> = new Set([0, 5, 6])
const attempts = 20
const pauseMs = 50

/** The online backup, begun anew where it met a write under way. Faults: the last one, after a second of trying. */
async function copyInPeace(from: DatabaseSync, partial: string): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      await backup(from, partial)
      return
    } catch (error) {
      if (attempt === attempts || !passing.has((error as { errcode?: unknown }).errcode)) throw error
      rmSync(partial, { force: true })
      await new Promise((resolve) => setTimeout(resolve, pauseMs))
    }
  }
}

/** Removes all but the newest `keep` backups of each survey in `folder`; other files are left alone. Returns what it removed. */
export function rotateBackups(folder: string, keep: number): string[] {
  if (!(Number.isInteger(keep) && keep >= 1)) throw new RangeError(`keep must be 1 or more, got ${keep}`)
  const names = existsSync(folder) ? readdirSync(folder).filter((name) => stamp.test(name)) : []
  const surveyOf = (name: string) => stamp.exec(name)?.groups?.survey ?? ''
  const removed = [...new Set(names.map(surveyOf))].flatMap((survey) =>
    names
      .filter((name) => surveyOf(name) === survey)
      .toSorted()
      .slice(0, -keep),
  )
  for (const name of removed) rmSync(join(folder, name), { force: true })
  return removed
}
