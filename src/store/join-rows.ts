import { numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import type { JoinState, JoinToWrite, NumberNote, StoredJoin } from './find-catalogue.ts'
import { FindNumbers } from './find-numbers.ts'
import { uuidOfFind } from './find-rows.ts'
import type { Writer } from './writer.ts'

const states: readonly JoinState[] = ['proposed', 'accepted', 'rejected']

/** Joins between finds that are there. */
export function readJoins(on: Connection): StoredJoin[] {
  return on
    .all(
      `SELECT joins.*, a.id AS first_id, b.id AS second_id FROM joins
        JOIN finds a ON a.uuid = joins.first_uuid JOIN finds b ON b.uuid = joins.second_uuid ORDER BY joins.id`,
    )
    .map((row) => {
      const reasons = parsedJson(textAt(row, 'reasons') ?? '[]')
      return {
        id: numberAt(row, 'id') ?? 0,
        first: numberAt(row, 'first_id') ?? 0,
        second: numberAt(row, 'second_id') ?? 0,
        state: states.find((state) => state === textAt(row, 'state')) ?? 'proposed',
        score: numberAt(row, 'score'),
        reasons: Array.isArray(reasons) ? reasons.map(String) : [],
        note: textAt(row, 'note'),
      }
    })
}

export function writeJoins(writer: Writer, joins: readonly JoinToWrite[], uuid: () => string): void {
  const { on } = writer
  for (const join of joins) {
    if (join.first === join.second) throw new RangeError('a find cannot be joined to itself')
    const pair = [uuidOfFind(on, join.first), uuidOfFind(on, join.second)].sort() as [string, string]
    const cells = {
      state: join.state,
      score: join.score,
      reasons: join.reasons.length === 0 ? null : JSON.stringify(join.reasons),
      note: join.note,
    }
    const known = on.one('SELECT * FROM joins WHERE first_uuid = ? AND second_uuid = ?', ...pair)
    if (known === null) {
      writer.insert('joins', { uuid: uuid(), first_uuid: pair[0], second_uuid: pair[1], ...cells })
      continue
    }
    const patch = Object.entries(cells).filter(([column, cell]) => known[column] !== cell)
    if (patch.length > 0) writer.update('joins', String(known.uuid), Object.fromEntries(patch))
  }
}

export function readNumberNotes(on: Connection): NumberNote[] {
  return on.all('SELECT * FROM number_notes ORDER BY number').map((row) => ({
    number: textAt(row, 'number') ?? '',
    state: textAt(row, 'state') === 'void' ? 'void' : 'label',
    note: textAt(row, 'note'),
    notedAt: secondsAt(row, 'noted_at') ?? 0,
  }))
}

export function writeNumberNote(
  writer: Writer,
  number: string,
  state: NumberNote['state'],
  note: string | null,
): void {
  const known = writer.on.one('SELECT state, note FROM number_notes WHERE number = ?', number)
  if (known === null) writer.insert('number_notes', { number, state, note, noted_at: writer.now })
  else if (known.state !== state || known.note !== note)
    writer.update('number_notes', number, { state, note })
}

/** Numbers for labels that no find bears yet. They stay given out even when this is undone. */
export function reserveNumbers(
  writer: Writer,
  code: string,
  year: number,
  count: number,
  note: string | null,
): string[] {
  const numbers = new FindNumbers(writer.on, code)
  const given = Array.from({ length: count }, () => numbers.next(year))
  numbers.finish()
  for (const number of given) writeNumberNote(writer, number, 'label', note)
  return given
}
