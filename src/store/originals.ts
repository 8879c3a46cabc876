import { SurveyError } from '#core/faults'
import { bytesAt, numberAt, secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import type { StoredOriginal } from './survey-file.ts'

const columns = 'id, uuid, name, kind, sha256, size, imported_at'

function storedOriginal(row: Row): StoredOriginal {
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    name: textAt(row, 'name') ?? '',
    kind: textAt(row, 'kind') ?? '',
    sha256: textAt(row, 'sha256') ?? '',
    size: numberAt(row, 'size') ?? 0,
    importedAt: secondsAt(row, 'imported_at') ?? 0,
  }
}

export function readOriginals(on: Connection): StoredOriginal[] {
  return on.all(`SELECT ${columns} FROM originals ORDER BY id`).map(storedOriginal)
}

export function findOriginal(on: Connection, sha256: string): StoredOriginal | null {
  const row = on.one(`SELECT ${columns} FROM originals WHERE sha256 = ?`, sha256)
  return row === null ? null : storedOriginal(row)
}

/** Faults: SurveyError not-found. */
export function readOriginalBytes(on: Connection, id: number): Uint8Array {
  const row = on.one('SELECT bytes FROM originals WHERE id = ?', id)
  if (row === null) throw new SurveyError('not-found', `There is no original file ${id} in the survey.`)
  return bytesAt(row, 'bytes') ?? new Uint8Array(0)
}
