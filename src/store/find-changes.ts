import { numberAt, parsedJson, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'

/** Which finds a list has to take up anew since a moment of the journal. */
export interface FindChanges {
  /** The moment now, to be asked with the next time. */
  readonly at: string
  /** Rows of finds that are there and may look otherwise, and of those that went; null where all have to be looked at. */
  readonly changed: readonly number[] | null
  readonly gone: readonly number[]
}

/** Above this many changes the whole list is had sooner. */
const mostChanges = 2000
/** A change of these may show in every row: how visits are called, the grid. */
const ofAll: ReadonlySet<string> = new Set(['visits', 'survey'])

/** The last entry of the journal with its time: another file, or an older copy put in place of this one, is told apart by it. */
function momentOf(row: Row | null): string {
  return row === null ? '0' : `${row.id} ${textAt(row, 'at')}`
}

const fieldOf = (row: Row, field: string): unknown => {
  const read = (column: 'before' | 'after'): Record<string, unknown> =>
    (parsedJson(textAt(row, column) ?? '{}') ?? {}) as Record<string, unknown>
  return read('after')[field] ?? read('before')[field]
}

/**
 * What has changed in the list of finds since `moment`, as an earlier answer gave it; null asks for nothing but the moment. Cost: the journal since
 * then, whatever the number of finds.
 */
export function findChangesSince(on: Connection, moment: string | null): FindChanges {
  const at = momentOf(on.one('SELECT id, at FROM journal ORDER BY id DESC LIMIT 1'))
  const whole = { at, changed: null, gone: [] }
  if (moment === null) return whole
  const since = Number.parseInt(moment, 10)
  if (!Number.isSafeInteger(since) || since <= 0) return whole
  if (momentOf(on.one('SELECT id, at FROM journal WHERE id = ?', since)) !== moment) return whole
  const rows = on.all('SELECT * FROM journal WHERE id > ? ORDER BY id LIMIT ?', since, mostChanges + 1)
  if (rows.length > mostChanges || rows.some((row) => ofAll.has(textAt(row, 'table_name') ?? '')))
    return whole
  const changed = new Set<number>()
  const gone = new Set<number>()
  for (const row of rows) {
    const ids = findsOf(on, row)
    if (ids === null) return whole
    for (const id of ids) changed.add(id)
    const lost = row.table_name === 'finds' && row.change === 'delete' ? Number(fieldOf(row, 'id')) : null
    if (lost !== null && !Number.isSafeInteger(lost)) return whole
    if (lost !== null) gone.add(lost)
  }
  return { at, changed: [...changed], gone: [...gone].filter((id) => !changed.has(id)) }
}

const idsBy = (on: Connection, where: string, key: string): number[] =>
  on.all(`SELECT id FROM finds WHERE ${where}`, key).map((row) => numberAt(row, 'id') ?? 0)

/** The finds that one entry of the journal is about, as they are now; null where that cannot be told. */
function findsOf(on: Connection, row: Row): number[] | null {
  const key = textAt(row, 'row_key') ?? ''
  switch (row.table_name) {
    case 'finds':
      return idsBy(on, 'uuid = ?', key)
    case 'findspots':
      return idsBy(on, 'findspot_id = (SELECT id FROM findspots WHERE uuid = ?)', key)
    case 'photographs': {
      const told = fieldOf(row, 'find_uuid')
      if (typeof told === 'string') return idsBy(on, 'uuid = ?', told)
      return row.change === 'update'
        ? idsBy(on, 'uuid = (SELECT find_uuid FROM photographs WHERE uuid = ?)', key)
        : null
    }
    default:
      return []
  }
}
