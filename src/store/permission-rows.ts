import { SurveyError } from '#core/faults'
import { decodePolygons, encodeMultiPolygon } from './area-geometry.ts'
import { bytesAt, numberAt, secondsAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { keepOriginal } from './keep-original.ts'
import type {
  GroundNoteFacts,
  GroundNoteKind,
  PermissionFacts,
  StoredAgreement,
  StoredGroundNote,
  StoredPermission,
} from './land-file.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

const columnOf = {
  name: 'name',
  holder: 'holder',
  contact: 'contact',
  areaId: 'area_id',
  startsOn: 'starts_on',
  endsOn: 'ends_on',
  terms: 'terms',
  findsShare: 'finds_share',
  access: 'access',
} as const satisfies Partial<Record<keyof PermissionFacts, string>>

function cellsOf(facts: Partial<PermissionFacts>): Record<string, Cell> {
  const cells: Record<string, Cell> = {}
  for (const [key, column] of Object.entries(columnOf) as [keyof typeof columnOf, string][]) {
    if (facts[key] !== undefined) cells[column] = facts[key]
  }
  if (facts.polygons !== undefined)
    cells.geom = facts.polygons === null ? null : encodeMultiPolygon(facts.polygons)
  return cells
}

export function readPermissions(on: Connection): StoredPermission[] {
  return on.all('SELECT * FROM permissions ORDER BY id').map(storedPermission)
}

/** Faults: SurveyError not-found. */
export function permissionOf(on: Connection, id: number): StoredPermission {
  const row = on.one('SELECT * FROM permissions WHERE id = ?', id)
  if (row !== null) return storedPermission(row)
  throw new SurveyError('not-found', `There is no permission ${id} in the survey; it may have been removed.`)
}

function storedPermission(row: Row): StoredPermission {
  const id = numberAt(row, 'id') ?? 0
  const blob = bytesAt(row, 'geom')
  const polygons = blob === null ? [] : (decodePolygons(blob) ?? [])
  return {
    id,
    uuid: textAt(row, 'uuid') ?? '',
    name: textAt(row, 'name') ?? `Permission ${id}`,
    holder: textAt(row, 'holder'),
    contact: textAt(row, 'contact'),
    areaId: numberAt(row, 'area_id'),
    polygons: polygons.length > 0 ? polygons : null,
    startsOn: dayAt(row, 'starts_on'),
    endsOn: dayAt(row, 'ends_on'),
    terms: textAt(row, 'terms'),
    findsShare: textAt(row, 'finds_share'),
    access: textAt(row, 'access'),
    agreement: agreementAt(row),
    madeAt: secondsAt(row, 'made_at'),
  }
}

/** A DATE cell; what another program wrote that is no day reads as none. */
function dayAt(row: Row, column: string): string | null {
  return textAt(row, column)?.match(/^\d{4}-\d\d-\d\d/)?.[0] ?? null
}

function agreementAt(row: Row): StoredAgreement | null {
  const [name, sha256] = [textAt(row, 'agreement_name'), textAt(row, 'agreement_sha256')]
  if (name === null || sha256 === null) return null
  const size = numberAt(row, 'agreement_size') ?? 0
  return { name, sha256, size, originalId: numberAt(row, 'agreement_original_id') }
}

export function writePermission(writer: Writer, facts: PermissionFacts, uuid: string): StoredPermission {
  const id = writer.insert('permissions', { uuid, ...cellsOf(facts), made_at: writer.now })
  return permissionOf(writer.on, id)
}

export function changePermission(
  writer: Writer,
  id: number,
  edit: Partial<PermissionFacts>,
): StoredPermission {
  const cells = cellsOf(edit)
  const { uuid } = permissionOf(writer.on, id)
  if (Object.keys(cells).length > 0) writer.update('permissions', uuid, cells)
  return permissionOf(writer.on, id)
}

/** The notes go first, for they point to it. */
export function removePermission(writer: Writer, id: number): void {
  for (const note of readGroundNotes(writer.on)) {
    if (note.permissionId === id) writer.remove('ground_notes', note.uuid)
  }
  writer.remove('permissions', permissionOf(writer.on, id).uuid)
}

export function attachAgreement(
  writer: Writer,
  id: number,
  { file, inside, uuid }: { file: OriginalFile; inside: boolean; uuid: () => string },
): StoredPermission {
  writer.update('permissions', permissionOf(writer.on, id).uuid, {
    agreement_name: file.name,
    agreement_sha256: file.sha256,
    agreement_size: file.bytes.length,
    agreement_original_id: inside ? keepOriginal(writer, file, uuid) : null,
  })
  return permissionOf(writer.on, id)
}

export function detachAgreement(writer: Writer, id: number): StoredPermission {
  writer.update('permissions', permissionOf(writer.on, id).uuid, {
    agreement_name: null,
    agreement_sha256: null,
    agreement_size: null,
    agreement_original_id: null,
  })
  return permissionOf(writer.on, id)
}

const noteKinds: readonly GroundNoteKind[] = ['crop', 'ground', 'access']

/** The latest day first. A note that another program left without a permission is not told. */
export function readGroundNotes(on: Connection): StoredGroundNote[] {
  return on.all('SELECT * FROM ground_notes ORDER BY noted_on DESC, id DESC').flatMap((row) => {
    const permissionId = numberAt(row, 'permission_id')
    if (permissionId === null) return []
    return [
      {
        id: numberAt(row, 'id') ?? 0,
        uuid: textAt(row, 'uuid') ?? '',
        permissionId,
        kind: noteKinds.find((kind) => kind === textAt(row, 'kind')) ?? 'ground',
        notedOn: dayAt(row, 'noted_on') ?? '',
        note: textAt(row, 'note') ?? '',
      },
    ]
  })
}

export function writeGroundNote(writer: Writer, facts: GroundNoteFacts, uuid: string): StoredGroundNote {
  const { permissionId, kind, notedOn, note } = facts
  permissionOf(writer.on, permissionId)
  const cells = { uuid, permission_id: permissionId, kind, noted_on: notedOn, note }
  return { id: writer.insert('ground_notes', cells), uuid, ...facts }
}

/** Faults: SurveyError not-found. */
export function removeGroundNote(writer: Writer, id: number): void {
  const row = writer.on.one('SELECT uuid FROM ground_notes WHERE id = ?', id)
  if (row === null)
    throw new SurveyError('not-found', `There is no note ${id} in the survey; it may have been removed.`)
  writer.remove('ground_notes', textAt(row, 'uuid') ?? '')
}
