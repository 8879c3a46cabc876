import type { Row } from './connection.ts'

/** Reading cells that another program may have filled with anything: what is not of the kind asked for reads as null. */
export function textAt(row: Row, column: string): string | null {
  const value = row[column]
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : null
}

export function numberAt(row: Row, column: string): number | null {
  const value = row[column]
  return typeof value === 'number' ? value : null
}

export function bytesAt(row: Row, column: string): Uint8Array | null {
  const value = row[column]
  return value instanceof Uint8Array ? value : null
}

/** A DATETIME cell as seconds since 1970-01-01 UTC. A text without a zone is taken as UTC, as GeoPackage says it is. */
export function secondsAt(row: Row, column: string): number | null {
  const text = textAt(row, column)
  if (text === null) return null
  const zoned = /(?:[zZ]|[+-]\d\d:?\d\d)$/.test(text) || !text.includes('T') ? text : `${text}Z`
  const ms = Date.parse(zoned)
  return Number.isNaN(ms) ? null : ms / 1000
}

/** Seconds since 1970-01-01 UTC as GeoPackage's DATETIME, to the millisecond; null for null, NaN and what no calendar holds. */
export function dateTimeCell(seconds: number | null): string | null {
  if (seconds === null) return null
  const date = new Date(Math.round(seconds * 1000))
  return Number.isNaN(date.getTime()) ? null : date.toISOString()
}

/** JSON text of a record of texts; null for an empty one. */
export function attributesCell(attributes: Readonly<Record<string, string>>): string | null {
  return Object.keys(attributes).length === 0 ? null : JSON.stringify(attributes)
}

/** A record of texts; values that are not texts are written as JSON, and a cell that is no JSON object is kept under `text`. */
export function attributesAt(row: Row, column: string): Record<string, string> {
  const text = textAt(row, column)
  const value = text === null ? {} : parsedJson(text)
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return { text: text ?? '' }
  return Object.fromEntries(
    Object.entries(value).map(([key, cell]) => [key, typeof cell === 'string' ? cell : JSON.stringify(cell)]),
  )
}

/** The value of a JSON text; undefined where it is none. */
export function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

/** Float64 numbers of a little-endian BLOB; null where its length does not fit. Cost: one copy. */
export function float64At(row: Row, column: string): Float64Array | null {
  const bytes = bytesAt(row, column)
  return bytes === null || bytes.length % 8 !== 0 ? null : new Float64Array(bytes.slice().buffer)
}

/** The bytes of a Float64Array as they lie in memory. */
export function bytesOf(numbers: Float64Array): Uint8Array {
  return new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength)
}
