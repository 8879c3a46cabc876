import type { Cell } from './connection.ts'

/**
 * One row as JSON for the journal. JSON has no bytes, no big integers and no infinities, so these are written as objects:
 * {"$base64": …}, {"$int": …}, {"$real": …}. With `bytes` 'count', bytes are only counted ({"$bytes": 29}): the row itself
 * or the original still holds them.
 */
export function rowJson(row: Readonly<Record<string, Cell>>, bytes: 'keep' | 'count'): string {
  const cells = Object.entries(row).map(([column, cell]) => [column, jsonOf(cell, bytes)])
  return JSON.stringify(Object.fromEntries(cells))
}

function jsonOf(cell: Cell, bytes: 'keep' | 'count'): unknown {
  if (typeof cell === 'bigint') return Number.isSafeInteger(Number(cell)) ? Number(cell) : { $int: `${cell}` }
  if (typeof cell === 'number') {
    if (Object.is(cell, -0)) return { $real: '-0' }
    return Number.isFinite(cell) ? cell : { $real: String(cell) }
  }
  if (!ArrayBuffer.isView(cell)) return cell
  if (bytes === 'count') return { $bytes: cell.byteLength }
  return { $base64: Buffer.from(cell.buffer, cell.byteOffset, cell.byteLength).toString('base64') }
}

/** The row that `rowJson` wrote with its bytes kept. Faults: RangeError where bytes were only counted. */
export function rowOfJson(json: string): Record<string, Cell> {
  const row = JSON.parse(json) as Record<string, unknown>
  return Object.fromEntries(Object.entries(row).map(([column, cell]) => [column, cellOf(cell)]))
}

function cellOf(cell: unknown): Cell {
  if (typeof cell === 'string' || typeof cell === 'number' || cell === null) return cell
  const kept = cell as { $base64?: string; $int?: string; $real?: string }
  if (kept.$base64 !== undefined) return new Uint8Array(Buffer.from(kept.$base64, 'base64'))
  if (kept.$int !== undefined) return BigInt(kept.$int)
  if (kept.$real !== undefined) return Number(kept.$real)
  throw new RangeError('this journal row holds no bytes to bring back')
}
