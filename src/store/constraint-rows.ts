import { bytesAt, numberAt, textAt } from './cells.ts'
import type { Cell, Connection } from './connection.ts'
import { keepOriginal } from './keep-original.ts'
import type { ConstraintFacts, StoredConstraint } from './land-file.ts'
import { decodeShape, encodeShape } from './land-geometry.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** In the order they came; one whose geometry another program emptied is left out. */
export function readConstraints(on: Connection): StoredConstraint[] {
  return on.all('SELECT * FROM constraints ORDER BY id').flatMap((row) => {
    const blob = bytesAt(row, 'geom')
    const shape = blob === null ? null : decodeShape(blob)
    if (shape === null) return []
    const id = numberAt(row, 'id') ?? 0
    return [
      {
        id,
        uuid: textAt(row, 'uuid') ?? '',
        name: textAt(row, 'name') ?? `Constraint ${id}`,
        kind: textAt(row, 'kind') ?? '',
        bufferM: Math.max(0, numberAt(row, 'buffer_m') ?? 0),
        sourceName: textAt(row, 'source_name'),
        originalId: numberAt(row, 'original_id'),
        shape,
      },
    ]
  })
}

export function writeConstraints(
  writer: Writer,
  file: OriginalFile,
  facts: readonly ConstraintFacts[],
  uuid: () => string,
): StoredConstraint[] {
  if (facts.length === 0) return []
  const originalId = keepOriginal(writer, file, uuid)
  if (writer.on.one('SELECT 1 FROM constraints WHERE original_id = ?', originalId) !== null) return []
  return facts.map(({ name, kind, bufferM, shape }) => {
    const [own, sourceName] = [uuid(), file.name]
    const id = writer.insert('constraints', {
      uuid: own,
      name,
      kind,
      buffer_m: bufferM,
      source_name: sourceName,
      original_id: originalId,
      made_at: writer.now,
      geom: encodeShape(shape),
    })
    return { id, uuid: own, name, kind, bufferM, shape, sourceName, originalId }
  })
}

export function changeConstraints(
  writer: Writer,
  ids: readonly number[],
  edit: Partial<Omit<ConstraintFacts, 'shape'>>,
): void {
  const cells: Record<string, Cell> = {}
  if (edit.name !== undefined) cells.name = edit.name
  if (edit.kind !== undefined) cells.kind = edit.kind
  if (edit.bufferM !== undefined) cells.buffer_m = edit.bufferM
  if (Object.keys(cells).length === 0) return
  for (const uuid of uuidsOf(writer.on, ids)) writer.update('constraints', uuid, cells)
}

export function removeConstraints(writer: Writer, ids: readonly number[]): void {
  for (const uuid of uuidsOf(writer.on, ids)) writer.remove('constraints', uuid)
}

function uuidsOf(on: Connection, ids: readonly number[]): string[] {
  return ids.flatMap((id) => {
    const row = on.one('SELECT uuid FROM constraints WHERE id = ?', id)
    return row === null ? [] : [textAt(row, 'uuid') ?? '']
  })
}
