import { parsedJson, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import type { Writer } from './writer.ts'

export function readSettings(on: Connection): Record<string, unknown> {
  const rows = on.all('SELECT key, value FROM settings ORDER BY key')
  return Object.fromEntries(
    rows.map((row) => [textAt(row, 'key') ?? '', parsedJson(textAt(row, 'value') ?? 'null')]),
  )
}

/** Writes the values that differ; undefined takes a key away. */
export function writeSettings(writer: Writer, patch: Readonly<Record<string, unknown>>): void {
  for (const [key, value] of Object.entries(patch)) {
    const row = writer.on.one('SELECT value FROM settings WHERE key = ?', key)
    const text = value === undefined ? null : JSON.stringify(value)
    if (text === undefined) throw new TypeError(`the setting ${key} is not JSON`)
    if (row === null && text !== null) writer.insert('settings', { key, value: text })
    else if (row !== null && text === null) writer.remove('settings', key)
    else if (row !== null && text !== null && textAt(row, 'value') !== text) {
      writer.update('settings', key, { value: text })
    }
  }
}
