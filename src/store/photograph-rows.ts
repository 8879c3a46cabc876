import { SurveyError } from '#core/faults'
import { bytesAt, numberAt, parsedJson, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import type { PhotographFacts, PhotographToAdd, StoredPhotograph } from './find-catalogue.ts'
import { uuidOfFind } from './find-rows.ts'
import { keepOriginal } from './keep-original.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** Without the pictures themselves. */
const columns = `id, uuid, find_uuid, role, name, path, relative_path, sha256, size, width, height, orientation, taken_at,
  note, mm_per_pixel, scale_line, original_id`

function factCells(facts: Partial<PhotographFacts>): Record<string, Cell> {
  const { role, note, mmPerPixel, scaleLine } = facts
  return {
    ...(role === undefined ? {} : { role }),
    ...(note === undefined ? {} : { note }),
    ...(mmPerPixel === undefined ? {} : { mm_per_pixel: mmPerPixel }),
    ...(scaleLine === undefined ? {} : { scale_line: scaleLine === null ? null : JSON.stringify(scaleLine) }),
  }
}

function scaleLineAt(row: Row): StoredPhotograph['scaleLine'] {
  const line = parsedJson(textAt(row, 'scale_line') ?? 'null')
  const whole = Array.isArray(line) && line.length === 5 && line.every(Number.isFinite)
  return whole ? (line as unknown as StoredPhotograph['scaleLine']) : null
}

function storedPhotograph(row: Row): StoredPhotograph {
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    findUuid: textAt(row, 'find_uuid') ?? '',
    role: textAt(row, 'role') ?? 'other',
    name: textAt(row, 'name') ?? '',
    path: textAt(row, 'path'),
    relativePath: textAt(row, 'relative_path'),
    sha256: textAt(row, 'sha256') ?? '',
    size: numberAt(row, 'size') ?? 0,
    width: numberAt(row, 'width') ?? 0,
    height: numberAt(row, 'height') ?? 0,
    orientation: numberAt(row, 'orientation') ?? 1,
    takenAt: textAt(row, 'taken_at'),
    note: textAt(row, 'note'),
    mmPerPixel: numberAt(row, 'mm_per_pixel'),
    scaleLine: scaleLineAt(row),
    originalId: numberAt(row, 'original_id'),
  }
}

export function readPhotographs(on: Connection, find: number): StoredPhotograph[] {
  return on
    .all(`SELECT ${columns} FROM photographs WHERE find_uuid = ? ORDER BY id`, uuidOfFind(on, find))
    .map(storedPhotograph)
}

export function readPhotographsWith(on: Connection, sha256: string): StoredPhotograph[] {
  return on
    .all(`SELECT ${columns} FROM photographs WHERE sha256 = ? ORDER BY id`, sha256)
    .map(storedPhotograph)
}

function missing(id: number): SurveyError {
  return new SurveyError('not-found', `There is no photograph ${id} in the survey; it may have been removed.`)
}

/** Faults: SurveyError not-found. */
export function photographOf(on: Connection, id: number): StoredPhotograph {
  const row = on.one(`SELECT ${columns} FROM photographs WHERE id = ?`, id)
  if (row === null) throw missing(id)
  return storedPhotograph(row)
}

/** JPEG. Faults: SurveyError not-found. */
export function readThumbnail(on: Connection, id: number): Uint8Array {
  const row = on.one('SELECT thumbnail FROM photographs WHERE id = ?', id)
  const bytes = row === null ? null : bytesAt(row, 'thumbnail')
  if (bytes === null) throw missing(id)
  return bytes
}

export function writePhotograph(
  writer: Writer,
  find: number,
  photograph: PhotographToAdd,
  inside: OriginalFile | null,
  uuid: () => string,
): StoredPhotograph {
  const originalId = inside === null ? null : keepOriginal(writer, inside, uuid)
  const id = writer.insert('photographs', {
    uuid: uuid(),
    find_uuid: uuidOfFind(writer.on, find),
    ...factCells(photograph),
    name: photograph.name,
    path: photograph.path,
    relative_path: photograph.relativePath,
    sha256: photograph.sha256,
    size: photograph.size,
    width: photograph.width,
    height: photograph.height,
    orientation: photograph.orientation,
    taken_at: photograph.takenAt,
    original_id: originalId,
    exif: photograph.exif,
    thumbnail: photograph.thumbnail,
  })
  return photographOf(writer.on, id)
}

export function changePhotograph(
  writer: Writer,
  id: number,
  patch: Partial<PhotographFacts>,
): StoredPhotograph {
  const { uuid } = photographOf(writer.on, id)
  const row = writer.on.one(`SELECT ${columns} FROM photographs WHERE id = ?`, id) ?? {}
  const cells = Object.entries(factCells(patch)).filter(([column, cell]) => row[column] !== cell)
  if (cells.length > 0) writer.update('photographs', uuid, Object.fromEntries(cells))
  return photographOf(writer.on, id)
}
