import { DatabaseSync, type SQLInputValue, type SQLOutputValue, type StatementSync } from 'node:sqlite'
import { pathToFileURL } from 'node:url'
import type { Bounds } from '#core/geometry'
import { geometryBounds } from './geometry-bounds.ts'

export type Row = Record<string, SQLOutputValue>
/** What a cell takes. */
export type Cell = SQLInputValue

const busyTimeoutMs = 5000
/** The write-ahead log is cut back to this after a large import. */
const keptLogBytes = 67_108_864
/** At SQLite's own 2 MiB the random order of UUIDs makes an import of 50,000 finds half as slow again. */
const cacheKiB = 65_536

export interface ConnectionMode {
  /** `query`: a normal connection that refuses to write. `frozen`: nobody writes the file, so no lock is taken (read-only disks). */
  readonly access: 'write' | 'query' | 'read-only' | 'frozen'
}

/** One open database with its prepared statements, and the functions that a GeoPackage's triggers call. */
export class Connection {
  readonly db: DatabaseSync
  readonly #statements = new Map<string, StatementSync>()

  constructor(path: string, mode: ConnectionMode) {
    const url = pathToFileURL(path)
    if (mode.access === 'frozen') url.searchParams.set('immutable', '1')
    this.db = new DatabaseSync(url, {
      readOnly: mode.access === 'read-only' || mode.access === 'frozen',
      timeout: busyTimeoutMs,
      enableForeignKeyConstraints: true,
    })
    this.db.exec('PRAGMA synchronous = FULL')
    this.db.exec(`PRAGMA journal_size_limit = ${keptLogBytes}; PRAGMA cache_size = -${cacheKiB}`)
    // A statement that sets off triggers keeps its own undo notes; in a temporary file they double the time of a row.
    this.db.exec('PRAGMA temp_store = MEMORY')
    if (mode.access === 'query') this.db.exec('PRAGMA query_only = ON')
    addGeometryFunctions(this.db)
  }

  /** A prepared statement, made once a text. */
  sql(text: string): StatementSync {
    const known = this.#statements.get(text)
    if (known !== undefined) return known
    const made = this.db.prepare(text)
    this.#statements.set(text, made)
    return made
  }

  all(text: string, ...cells: Cell[]): Row[] {
    return this.sql(text).all(...cells)
  }

  /** Rows as arrays in the order of the columns: for many rows of many columns in a third of the time of `all`. */
  arrays(text: string, ...cells: Cell[]): SQLOutputValue[][] {
    const statement = this.sql(text)
    statement.setReturnArrays(true)
    return statement.all(...cells) as unknown as SQLOutputValue[][]
  }

  one(text: string, ...cells: Cell[]): Row | null {
    return this.sql(text).get(...cells) ?? null
  }

  run(text: string, ...cells: Cell[]): number {
    return Number(this.sql(text).run(...cells).lastInsertRowid)
  }

  /** Runs `work` between BEGIN and COMMIT; takes all back if it throws. `start` IMMEDIATE waits for other writers first. */
  transaction<Result>(start: 'IMMEDIATE' | 'DEFERRED', work: () => Result): Result {
    this.db.exec(`BEGIN ${start}`)
    try {
      const result = work()
      this.db.exec('COMMIT')
      return result
    } catch (error) {
      if (this.db.isTransaction) this.db.exec('ROLLBACK')
      throw error
    }
  }

  close(): void {
    this.#statements.clear()
    this.db.close()
  }
}

/**
 * The functions that GeoPackage's R-tree extension asks for (annex F.3). A value that is no geometry gives NULL, so that
 * it stays out of the index rather than stopping a write; `check` lists such values.
 */
function addGeometryFunctions(db: DatabaseSync): void {
  const bounds = (value: SQLOutputValue): Bounds | null =>
    value instanceof Uint8Array ? geometryBounds(value) : null
  const isEmpty = (box: Bounds) => !(box.minX <= box.maxX)
  const add = (name: string, of: (box: Bounds) => number | null) =>
    db.function(name, { deterministic: true }, (value) => {
      const box = bounds(value)
      return box === null ? null : of(box)
    })
  add('ST_IsEmpty', (box) => (isEmpty(box) ? 1 : 0))
  for (const [name, key] of [
    ['ST_MinX', 'minX'],
    ['ST_MaxX', 'maxX'],
    ['ST_MinY', 'minY'],
    ['ST_MaxY', 'maxY'],
  ] as const) {
    add(name, (box) => (isEmpty(box) ? null : box[key]))
  }
}
