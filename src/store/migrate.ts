import { SurveyError } from '#core/faults'
import { textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import { migrations } from './migrations/index.ts'

/** Names of the migrations a survey has been through, in order; null where the file is no survey. */
export function appliedMigrations(on: Connection): string[] | null {
  const found = on.one("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'migrations'")
  if (found === null) return null
  return on.all('SELECT name FROM migrations ORDER BY id').map((row) => textAt(row, 'name') ?? '')
}

/** True where there is something to add. Faults: SurveyError newer-survey for names that this version does not know. */
export function needsMigration(applied: readonly string[], fileName: string): boolean {
  const known = new Set(migrations.map((migration) => migration.name))
  const unknown = applied.filter((name) => !known.has(name))
  if (unknown.length > 0) {
    throw new SurveyError(
      'newer-survey',
      `${fileName} was written by a later version of Lynchet (it has ${unknown.join(', ')}); update Lynchet to open it.`,
    )
  }
  return applied.length < migrations.length
}

/** Runs the migrations that are missing, each in its own transaction. Two programs may do so at once: the later finds it done. */
export function migrate(on: Connection, now: string): void {
  for (const { name, sql } of migrations) {
    on.transaction('IMMEDIATE', () => {
      on.db.exec(`CREATE TABLE IF NOT EXISTS migrations (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  name TEXT NOT NULL UNIQUE,
  applied_at DATETIME NOT NULL
)`)
      if (on.one('SELECT 1 FROM migrations WHERE name = ?', name) !== null) return
      on.db.exec(sql)
      on.run('INSERT INTO migrations (name, applied_at) VALUES (?, ?)', name, now)
    })
  }
}
