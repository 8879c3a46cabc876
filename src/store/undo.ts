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
  return isBuiltOn(on, id) ? null : { id, what: textAt(row, 'what') ?? '' }
}

/**
 * True where another program has since changed a row of the action, or tied a find to a findspot of it. Cost: grows with
 * what other programs changed since, not with the action.
 */
function isBuiltOn(on: Connection, action: number): boolean {
  const change = on.one(
    `SELECT 1 FROM journal f WHERE f.action_id IS NULL
      AND f.id > (SELECT min(id) FROM journal WHERE action_id = ?1)
      AND (EXISTS (SELECT 1 FROM journal own WHERE own.row_key = f.row_key AND own.action_id = ?1)
        OR EXISTS (SELECT 1 FROM finds JOIN findspots ON findspots.id = finds.findspot_id
          JOIN journal own ON own.row_key = findspots.uuid
          WHERE finds.uuid = f.row_key AND own.action_id = ?1)) LIMIT 1`,
    action,
  )
  return change !== null
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
