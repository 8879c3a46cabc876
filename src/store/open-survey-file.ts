import { basename, resolve } from 'node:path'
import { SurveyError } from '#core/faults'
import { numberAt, textAt } from './cells.ts'
import { Connection, type ConnectionMode } from './connection.ts'
import { appliedMigrations, migrate, needsMigration } from './migrate.ts'
import { OpenSurvey } from './open-survey.ts'
import { sqliteCode, surveyFault } from './sqlite-faults.ts'
import type { CreateSurveyFile, OpenSurveyFile } from './survey-file.ts'
import {
  assertSqliteFile,
  hasUnfinishedLog,
  isWritable,
  removeSurveyFiles,
  takeName,
} from './survey-folder.ts'

/** 'GPKG', in the header of every GeoPackage (requirement 2). */
const applicationId = 0x47504b47
/** GeoPackage 1.3.0, the newest that GDAL 3.6 opens without a warning. */
const geopackageVersion = 10_300
/** Tracks and originals are large values: 1,000,000 fixes with a 100 MB original take 0.47 s, against 0.67 s at 4096. */
const pageBytes = 16_384

/**
 * Opens a survey for reading and writing, or for reading only. Several programs may have it open at once; one that holds
 * it locked is waited for, five seconds at most.
 */
export const openSurveyFile: OpenSurveyFile = (path, surroundings, options = {}) => {
  const full = resolve(path)
  const name = basename(full)
  const readOnly = options.readOnly ?? false
  assertSqliteFile(full)
  const writable = isWritable(full)
  if (!readOnly && !writable) {
    throw new SurveyError(
      'survey-read-only',
      `${name} or its folder cannot be written; copy it to a folder where you may write, or open it for reading only.`,
    )
  }
  const on = connect(full, readOnly ? (writable ? 'query' : 'read-only') : 'write')
  try {
    const applied = assertSurvey(on, name)
    const old = needsMigration(applied, name)
    if (old && readOnly) {
      const sentence = `${name} was written by an earlier version of Lynchet; open it once for writing, which adds what is new.`
      throw new SurveyError('survey-read-only', sentence)
    }
    if (!readOnly) setWriteAheadLog(on)
    if (old) migrate(on, surroundings.now().toISOString())
    assertTables(on, name)
    return new OpenSurvey(full, on, surroundings, readOnly)
  } catch (error) {
    on.close()
    throw surveyFault(error, full)
  }
}

/** Makes a new survey, which is then open. Nothing is left behind if that fails. Faults also RangeError for a malformed code. */
export const createSurveyFile: CreateSurveyFile = (path, start, surroundings) => {
  const full = resolve(path)
  if (!/^[A-Z][A-Z0-9]{1,7}$/.test(start.code)) {
    throw new RangeError(
      `a survey code is two to eight capital letters or digits, a letter first, got ${start.code}`,
    )
  }
  takeName(full)
  let on: Connection | null = null
  try {
    on = connect(full, 'write')
    on.db.exec(
      `PRAGMA page_size = ${pageBytes}; PRAGMA application_id = ${applicationId}; PRAGMA user_version = ${geopackageVersion}`,
    )
    setWriteAheadLog(on)
    const now = surroundings.now().toISOString()
    migrate(on, now)
    on.run(
      'INSERT INTO survey (id, uuid, code, title, grid_epsg, demo, created_at) VALUES (1, ?, ?, ?, NULL, ?, ?)',
      surroundings.uuid(),
      start.code,
      start.title,
      start.demo ? 1 : 0,
      now,
    )
    on.db.exec('PRAGMA wal_checkpoint(TRUNCATE)')
    return new OpenSurvey(full, on, surroundings, false)
  } catch (error) {
    on?.close()
    removeSurveyFiles(full)
    throw surveyFault(error, full)
  }
}

/** A file on a disk that nobody can write is read without the locks that would need files beside it. */
function connect(path: string, access: ConnectionMode['access']): Connection {
  try {
    const on = new Connection(path, { access })
    try {
      on.one('PRAGMA schema_version')
      return on
    } catch (error) {
      on.close()
      throw error
    }
  } catch (error) {
    const blocked = access === 'read-only' && [8, 10, 14].includes(sqliteCode(error) ?? 0)
    if (!blocked) throw surveyFault(error, path)
    if (!hasUnfinishedLog(path)) return new Connection(path, { access: 'frozen' })
    throw new SurveyError(
      'survey-read-only',
      `${basename(path)} has unfinished changes in the file ${basename(path)}-wal beside it; copy both to a folder where you may write, and open the copy.`,
      { cause: error },
    )
  }
}

/** The names of the survey's migrations. Faults: SurveyError not-a-survey. */
function assertSurvey(on: Connection, name: string): readonly string[] {
  const id = numberAt(on.one('PRAGMA application_id') ?? {}, 'application_id')
  const applied = appliedMigrations(on)
  if (id !== applicationId) {
    const sentence = `${name} is an SQLite database but not a GeoPackage, so not a survey; choose the .gpkg file of a survey.`
    throw new SurveyError('not-a-survey', sentence)
  }
  if (applied === null || on.one("SELECT 1 FROM sqlite_master WHERE name = 'survey'") === null) {
    throw new SurveyError(
      'not-a-survey',
      `${name} is a GeoPackage but not a survey; to bring its layers in, save them as GeoJSON and import that into a survey.`,
    )
  }
  return applied
}

const neededTables = [
  'areas',
  'tracks',
  'findspots',
  'finds',
  'gaps',
  'originals',
  'layers',
  'layer_files',
  'marks',
  'targets',
  'permissions',
  'ground_notes',
  'plans',
  'lanes',
  'constraints',
  'settings',
  'covers',
  'chances',
  'actions',
  'journal',
]

/** Faults: SurveyError survey-damaged where another program dropped a table. */
function assertTables(on: Connection, name: string): void {
  const there = new Set(
    on.all("SELECT name FROM sqlite_master WHERE type = 'table'").map((row) => textAt(row, 'name')),
  )
  const lost = neededTables.filter((table) => !there.has(table))
  if (lost.length > 0) {
    throw new SurveyError(
      'survey-damaged',
      `Another program took ${lost.join(', ')} out of ${name}; keep the file, and open the latest backup of the survey instead.`,
    )
  }
}

/** Stays set in the file. A disk that cannot do it (some network disks) keeps the rollback journal, which is as safe but slower. */
function setWriteAheadLog(on: Connection): void {
  const mode = on.one('PRAGMA journal_mode')
  if (mode === null || textAt(mode, 'journal_mode') !== 'wal') on.db.exec('PRAGMA journal_mode = WAL')
}
