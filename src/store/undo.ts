import { numberAt, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import type { JournalledTable, Writer } from './writer.ts'

export interface UndoableAction {
  readonly id: number
  readonly what: string
}

/**
 * The last action that was not taken back yet. Null where there is none, or where another program has changed a row of it
 * since: its work would be lost.
 */
export function lastAction(on: Connection): UndoableAction | null {
  const row = on.one(`SELECT id, what FROM actions a WHERE undoes IS NULL
    AND NOT EXISTS (SELECT 1 FROM actions u WHERE u.undoes = a.id) ORDER BY id DESC LIMIT 1`)
  if (row === null) return null
  const id = numberAt(row, 'id') ?? 0
  const foreign = on.one(
    `SELECT 1 FROM journal f JOIN journal own
      ON own.action_id = ? AND own.table_name = f.table_name AND own.row_key = f.row_key
      WHERE f.action_id IS NULL AND f.id > own.id LIMIT 1`,
    id,
  )
  if (foreign !== null || isLeantOn(on, id)) return null
  return { id, what: textAt(row, 'what') ?? '' }
}

/** True where a find of another origin belongs to a findspot that the action added. */
function isLeantOn(on: Connection, action: number): boolean {
  const find = on.one(
    `SELECT 1 FROM journal own JOIN findspots ON findspots.uuid = own.row_key
      JOIN finds ON finds.findspot_id = findspots.id
      WHERE own.action_id = ? AND own.table_name = 'findspots' AND own.change = 'insert'
        AND NOT EXISTS (SELECT 1 FROM journal same WHERE same.table_name = 'finds'
          AND same.row_key = finds.uuid AND same.action_id = own.action_id) LIMIT 1`,
    action,
  )
  return find !== null
}

/** Reverses the changes of one action, last first. */
export function reverseAction(writer: Writer, id: number): void {
  const changes = writer.on.all(
    'SELECT change, table_name, row_key, before FROM journal WHERE action_id = ? ORDER BY id DESC',
    id,
  )
  for (const row of changes) {
    writer.reverse({
      change: textAt(row, 'change') as 'insert' | 'update' | 'delete',
      table: textAt(row, 'table_name') as JournalledTable,
      key: textAt(row, 'row_key') ?? '',
      before: textAt(row, 'before'),
    })
  }
}
