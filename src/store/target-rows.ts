import { SurveyError } from '#core/faults'
import { decodePoint, encodePoint } from './area-geometry.ts'
import { bytesAt, numberAt, secondsAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import type { StoredTarget, TargetFacts } from './marks-file.ts'
import { planarAt, planarCells } from './planar-cells.ts'
import type { Writer } from './writer.ts'

function cellsOf(target: TargetFacts): Record<string, Cell> {
  return {
    name: target.name,
    note: target.note,
    mark_id: target.markId,
    ...planarCells(target.planar),
    geom: encodePoint(target.lon, target.lat),
  }
}

/** In the order they came; one whose position another program emptied is left out. */
export function readTargets(on: Connection): StoredTarget[] {
  return on.all('SELECT * FROM targets ORDER BY id').flatMap((row) => {
    const target = storedTarget(row)
    return target === null ? [] : [target]
  })
}

/** Faults: SurveyError not-found. */
export function targetOf(on: Connection, id: number): StoredTarget {
  const row = on.one('SELECT * FROM targets WHERE id = ?', id)
  const target = row === null ? null : storedTarget(row)
  if (target === null) {
    throw new SurveyError('not-found', `There is no target ${id} in the survey; it may have been removed.`)
  }
  return target
}

function storedTarget(row: Row): StoredTarget | null {
  const blob = bytesAt(row, 'geom')
  const point = blob === null ? null : decodePoint(blob)
  if (point === null) return null
  const id = numberAt(row, 'id') ?? 0
  return {
    id,
    uuid: textAt(row, 'uuid') ?? '',
    name: textAt(row, 'name') ?? `Target ${id}`,
    note: textAt(row, 'note'),
    lon: point.x,
    lat: point.y,
    planar: planarAt(row),
    markId: numberAt(row, 'mark_id'),
    madeAt: secondsAt(row, 'made_at'),
  }
}

export function writeTarget(writer: Writer, target: TargetFacts, uuid: string): StoredTarget {
  const id = writer.insert('targets', { uuid, ...cellsOf(target), made_at: writer.now })
  return targetOf(writer.on, id)
}

export function changeTarget(writer: Writer, id: number, edit: Partial<TargetFacts>): StoredTarget {
  const before = targetOf(writer.on, id)
  writer.update('targets', before.uuid, cellsOf({ ...before, ...edit }))
  return targetOf(writer.on, id)
}
