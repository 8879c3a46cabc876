import type { FaultCode } from '#core/faults'
import { quoted } from '#formats/fault-list'
import { tableEncoding } from './table-encoding.ts'

/** The rows of a .dbf, read one at a time. */
export interface AttributeTable {
  readonly rows: number
  /** Values of a row in the order of its columns, those without one left out; null for a row marked as deleted. */
  readonly row: (index: number) => [name: string, text: string][] | null
  /** What is wrong with the table, as sentences without the file's name. */
  readonly flaws: readonly TableFlaw[]
}

interface TableFlaw {
  readonly code: FaultCode
  readonly text: string
}

interface Column {
  readonly name: string
  readonly type: string
  readonly from: number
  readonly length: number
}

const columnBytes = 32
const endOfColumns = 0x0d
const deleted = 0x2a
/** Text, numbers in two notations, dates, yes or no: the kinds that a shapefile's table may have. */
const readable = new Set(['C', 'N', 'F', 'D', 'L'])

/**
 * Reads the header of a dBASE III table, whose rows go with the shapes by their order. Where it breaks off or contradicts itself,
 * what can be made out stands. Null for bytes that are no such table. Cost: the header now, a row when it is asked for.
 */
export function attributeTable(dbf: Uint8Array, cpg: string | null): AttributeTable | null {
  if (dbf.length < columnBytes + 1) return null
  const view = new DataView(dbf.buffer, dbf.byteOffset, dbf.byteLength)
  const version = view.getUint8(0)
  const stated = view.getUint32(4, true)
  const headerLength = view.getUint16(8, true)
  const rowLength = view.getUint16(10, true)
  // dBASE II (2) and dBASE 7 (4) lay their columns out in other ways.
  const sized = headerLength > columnBytes && headerLength <= dbf.length && rowLength > 0
  if (version === 2 || (version & 7) === 4 || !sized) return null
  const { decode, unknown, stated: page } = tableEncoding(cpg, view.getUint8(29))
  const flaws: TableFlaw[] = []
  if (unknown !== null) {
    const text = `states the encoding ${unknown}, which is not known; it was read as UTF-8, or Windows-1252 where it is not that`
    flaws.push({ code: 'assumed', text })
  }
  const columns = columnsOf(view, dbf, headerLength, rowLength, decode, flaws)
  const held = Math.floor((dbf.length - headerLength) / rowLength)
  if (held < stated) {
    const text = `is cut short: it holds ${held} of ${stated} rows; shapes beyond them have no attributes`
    flaws.push({ code: 'broken-file', text })
  }
  const rows = Math.min(stated, held)
  const row = (index: number): [string, string][] | null => {
    const at = headerLength + index * rowLength
    if (dbf[at] === deleted) return null
    const values: [string, string][] = []
    for (const { name, type, from, length } of columns) {
      const cell = dbf.subarray(at + from, at + from + length)
      const text = cellText(type, cell, decode)
      if (text !== '') values.push([name, text])
    }
    return values
  }
  return { rows, row, flaws: page === null ? [...flaws, ...guessNote(dbf.subarray(headerLength))] : flaws }
}

function columnsOf(
  view: DataView,
  dbf: Uint8Array,
  headerEnd: number,
  rowLength: number,
  decode: (bytes: Uint8Array) => string,
  flaws: TableFlaw[],
): Column[] {
  const columns: Column[] = []
  const unread: string[] = []
  let from = 1
  for (let at = columnBytes; at + columnBytes <= headerEnd && dbf[at] !== endOfColumns; at += columnBytes) {
    const nameEnd = dbf.subarray(at, at + 11).indexOf(0)
    const name =
      decode(dbf.subarray(at, at + (nameEnd < 0 ? 11 : nameEnd))).trim() || `column ${columns.length + 1}`
    const type = String.fromCharCode(view.getUint8(at + 11))
    // Text may be longer than 255: the place of the decimals then holds the upper byte (Clipper and FoxPro).
    const length = view.getUint8(at + 16) + (type === 'C' ? view.getUint8(at + 17) * 256 : 0)
    if (from + length > rowLength) {
      flaws.push({
        code: 'broken-file',
        text: `has columns longer than its rows; ${quoted(name)} and those after it were not read`,
      })
      break
    }
    if (!readable.has(type)) unread.push(name)
    else if (length > 0) columns.push({ name, type, from, length })
    from += length
  }
  if (unread.length > 0) {
    const others = unread.length === 1 ? '' : ` and ${unread.length - 1} more`
    const text = `has columns of kinds that are not read: ${quoted(unread[0]!)}${others}`
    flaws.push({ code: 'unsupported-feature', text })
  }
  return columns
}

/** Said only where it matters: where there is text beyond ASCII. */
function guessNote(rows: Uint8Array): TableFlaw[] {
  if (rows.every((byte) => byte < 128)) return []
  const text = 'states no encoding (.cpg); text was read as UTF-8, or Windows-1252 where it is not that'
  return [{ code: 'assumed', text }]
}

/** A cell as text: dates as ISO 8601, yes or no as true or false; nothing for a cell that is empty or filled with asterisks. */
function cellText(type: string, cell: Uint8Array, decode: (bytes: Uint8Array) => string): string {
  if (type === 'C') return trimmed(cell, decode)
  const text = trimmed(cell, decode).trim()
  if (type === 'L') return /^[yt]$/i.test(text) ? 'true' : /^[nf]$/i.test(text) ? 'false' : ''
  if (type === 'D') {
    if (/^0*$/.test(text)) return ''
    return text.replace(/^(\d{4})(\d{2})(\d{2})$/, '$1-$2-$3')
  }
  return text.startsWith('*') ? '' : text
}

/** Cells are filled up with blanks, by some programs with zero bytes. */
function trimmed(cell: Uint8Array, decode: (bytes: Uint8Array) => string): string {
  let end = cell.length
  while (end > 0 && (cell[end - 1] === 0x20 || cell[end - 1] === 0)) end--
  if (end === 0) return ''
  const bytes = cell.subarray(0, end)
  if (end < 1000 && bytes.every((byte) => byte < 128 && byte > 0)) return String.fromCharCode(...bytes)
  const text = decode(bytes)
  const zero = text.indexOf('\0')
  return zero < 0 ? text : text.slice(0, zero)
}
