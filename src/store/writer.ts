import type { Cell, Connection, Row } from './connection.ts'
import { ContentsUpkeep } from './contents.ts'
import { rowJson, rowOfJson } from './row-json.ts'

/** Tables whose every change goes into the journal, with the column that names a row for good. */
const rowKeys = {
  areas: 'uuid',
  tracks: 'uuid',
  findspots: 'uuid',
  finds: 'uuid',
  originals: 'uuid',
  survey: 'uuid',
  settings: 'key',
  layers: 'uuid',
  layer_files: 'uuid',
  marks: 'uuid',
  targets: 'uuid',
  visits: 'uuid',
  find_events: 'uuid',
  photographs: 'uuid',
  joins: 'uuid',
  number_notes: 'number',
  words: 'uuid',
  permissions: 'uuid',
  ground_notes: 'uuid',
  plans: 'uuid',
  lanes: 'uuid',
  constraints: 'uuid',
} as const
export type JournalledTable = keyof typeof rowKeys

/** Tables that a cover depends on; which visit a track belongs to does not matter to it. */
const groundTables: ReadonlySet<JournalledTable> = new Set(['areas', 'tracks', 'settings', 'survey'])

interface JournalRow {
  readonly change: 'insert' | 'update' | 'delete'
  readonly table: JournalledTable
  readonly key: string
  readonly before: string | null
}

/** One user action in the making: every change made through it is journalled under one entry of `actions`. */
export class Writer {
  readonly on: Connection
  readonly now: string
  readonly #what: string
  readonly #by: string
  readonly #undoes: number | null
  readonly #contents = new ContentsUpkeep()
  #action: number | null = null
  #ground = false

  constructor(on: Connection, action: { what: string; by: string; now: string; undoes: number | null }) {
    this.on = on
    this.now = action.now
    this.#what = action.what
    this.#by = action.by
    this.#undoes = action.undoes
  }

  /** Adds a row and returns its id. */
  insert(table: JournalledTable, row: Record<string, Cell>): number {
    const action = this.#begin()
    const columns = Object.keys(row)
    const id = this.on.run(
      `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
      ...Object.values(row),
    )
    this.#contents.added(table, row.geom)
    this.#ground ||= groundTables.has(table)
    this.#note(action, 'insert', table, String(row[rowKeys[table]]), null, rowJson(row, 'count'))
    return id
  }

  update(table: JournalledTable, key: string, patch: Record<string, Cell>): void {
    const action = this.#begin()
    const columns = Object.keys(patch)
    const before = this.#read(table, key, columns.join(', '))
    this.on.run(
      `UPDATE ${table} SET ${columns.map((column) => `${column} = ?`).join(', ')} WHERE ${rowKeys[table]} = ?`,
      ...Object.values(patch),
      key,
    )
    this.#contents.changed(table)
    this.#ground ||= groundTables.has(table) && columns.some((column) => column !== 'visit_uuid')
    this.#note(action, 'update', table, key, rowJson(before, 'keep'), rowJson(patch, 'count'))
  }

  /** Takes a row away; `bytes` 'count' keeps only the size of its bytes in the journal. */
  remove(table: JournalledTable, key: string, bytes: 'keep' | 'count' = 'keep'): void {
    const action = this.#begin()
    const before = this.#read(table, key, '*')
    this.on.run(`DELETE FROM ${table} WHERE ${rowKeys[table]} = ?`, key)
    this.#contents.changed(table)
    this.#ground ||= groundTables.has(table)
    this.#note(action, 'delete', table, key, rowJson(before, bytes), null)
  }

  /** Does the opposite of one journalled change. */
  reverse({ change, table, key, before }: JournalRow): void {
    if (change === 'insert') this.remove(table, key, 'count')
    else if (change === 'delete') this.insert(table, rowOfJson(before ?? '{}'))
    else this.update(table, key, rowOfJson(before ?? '{}'))
  }

  /** True once something was changed. */
  get wrote(): boolean {
    return this.#action !== null
  }

  finish(): void {
    if (this.#action === null) return
    this.#contents.finish(this.on, this.now)
    this.on.run('UPDATE revisions SET everything = everything + 1, ground = ground + ?', this.#ground ? 1 : 0)
    this.on.run('UPDATE writing SET own = 0')
  }

  #begin(): number {
    if (this.#action === null) {
      this.on.run('UPDATE writing SET own = 1')
      this.#action = this.on.run(
        'INSERT INTO actions (what, at, by_whom, undoes) VALUES (?, ?, ?, ?)',
        this.#what,
        this.now,
        this.#by,
        this.#undoes,
      )
    }
    return this.#action
  }

  #read(table: JournalledTable, key: string, columns: string): Row {
    const statement = this.on.sql(`SELECT ${columns} FROM ${table} WHERE ${rowKeys[table]} = ?`)
    statement.setReadBigInts(true)
    const row = statement.get(key)
    if (row === undefined) throw new RangeError(`no row ${key} in ${table}`)
    return row
  }

  #note(
    action: number,
    change: JournalRow['change'],
    table: JournalledTable,
    key: string,
    before: string | null,
    after: string | null,
  ): void {
    this.on.run(
      'INSERT INTO journal (action_id, at, change, table_name, row_key, before, after) VALUES (?, ?, ?, ?, ?, ?, ?)',
      action,
      this.now,
      change,
      table,
      key,
      before,
      after,
    )
  }
}

/** One action as one transaction that waits for other writers first. An action that changes nothing leaves no trace. */
export function asAction<Result>(
  on: Connection,
  action: { what: string; by: string; now: string; undoes: number | null },
  work: (writer: Writer) => Result,
): Result {
  return on.transaction('IMMEDIATE', () => {
    const writer = new Writer(on, action)
    const result = work(writer)
    writer.finish()
    return result
  })
}
