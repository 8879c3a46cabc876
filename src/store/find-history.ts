import { numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import type { FindChange, FindEvent, FindEventToAdd } from './find-catalogue.ts'
import { uuidOfFind } from './find-rows.ts'
import type { Writer } from './writer.ts'

export function readEvents(on: Connection, id: number): FindEvent[] {
  return on
    .all('SELECT * FROM find_events WHERE find_uuid = ? ORDER BY id', uuidOfFind(on, id))
    .map((row) => ({
      uuid: textAt(row, 'uuid') ?? '',
      kind: textAt(row, 'kind') ?? '',
      happenedOn: textAt(row, 'happened_on'),
      who: textAt(row, 'who'),
      note: textAt(row, 'note'),
      recordedAt: secondsAt(row, 'recorded_at') ?? 0,
      recordedBy: textAt(row, 'recorded_by') ?? '',
    }))
}

export function findsWithEvent(on: Connection, kind: string): Set<string> {
  const rows = on.all('SELECT DISTINCT find_uuid FROM find_events WHERE kind = ?', kind)
  return new Set(rows.map((row) => textAt(row, 'find_uuid') ?? ''))
}

export function writeEvent(
  writer: Writer,
  ids: readonly number[],
  event: FindEventToAdd,
  around: { readonly uuid: () => string; readonly by: string },
): void {
  for (const id of ids) {
    writer.insert('find_events', {
      uuid: around.uuid(),
      find_uuid: uuidOfFind(writer.on, id),
      kind: event.kind,
      happened_on: event.happenedOn,
      who: event.who,
      note: event.note,
      recorded_at: writer.now,
      recorded_by: around.by,
    })
  }
}

/** What the journal has of one find's row, oldest first. */
export function readChanges(on: Connection, id: number): FindChange[] {
  return on
    .all(
      `SELECT journal.at, journal.change, journal.before, journal.after, actions.what, actions.by_whom
        FROM journal LEFT JOIN actions ON actions.id = journal.action_id
        WHERE journal.row_key = ? AND journal.table_name = 'finds' ORDER BY journal.id`,
      uuidOfFind(on, id),
    )
    .map((row) => ({
      at: secondsAt(row, 'at') ?? 0,
      by: textAt(row, 'by_whom'),
      what: textAt(row, 'what') ?? 'change by another program',
      change: changeAt(row),
      before: cellsAt(row, 'before'),
      after: cellsAt(row, 'after'),
    }))
}

function changeAt(row: Row): FindChange['change'] {
  const change = textAt(row, 'change')
  return change === 'insert' || change === 'delete' ? change : 'update'
}

function cellsAt(row: Row, column: string): Record<string, unknown> {
  const value = parsedJson(textAt(row, column) ?? '{}')
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}

/** Numbers that a find once bore and none bears now, with the words of what took them: by number. */
export function readLostNumbers(on: Connection): Map<string, { readonly what: string; readonly at: number }> {
  const rows = on.all(`SELECT json_extract(journal.before, '$.number') AS number, actions.what, journal.at
    FROM journal LEFT JOIN actions ON actions.id = journal.action_id
    WHERE journal.table_name = 'finds' AND journal.change IN ('delete', 'update')
      AND json_extract(journal.before, '$.number') IS NOT NULL ORDER BY journal.id`)
  return new Map(
    rows.map((row) => [
      textAt(row, 'number') ?? '',
      { what: textAt(row, 'what') ?? 'change by another program', at: secondsAt(row, 'at') ?? 0 },
    ]),
  )
}

/** Highest number given out of each year. */
export function readLastNumbers(on: Connection): Map<number, number> {
  return new Map(
    on
      .all('SELECT year, last FROM find_numbers')
      .map((row) => [numberAt(row, 'year') ?? 0, numberAt(row, 'last') ?? 0]),
  )
}
