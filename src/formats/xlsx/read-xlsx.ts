import { readSheet } from 'read-excel-file/universal'
import { type FileFault, SurveyError } from '#core/faults'
import { plainDecimal } from '#formats/decimal'
import { FaultList, quoted } from '#formats/fault-list'
import type { ZipEntry } from '#formats/zip'
import {
  plainWorkbook,
  sheetMarks,
  type WorkbookSheet,
  workbookSheets,
  xlsxEntries,
} from './workbook-parts.ts'

/** One sheet of a workbook as rows of text. */
export interface XlsxTable {
  /** Names of all sheets that show, in order. */
  readonly sheets: readonly string[]
  /** The sheet that was read. */
  readonly sheet: string
  /** Cells of each row as text; `line` is the number of the row in the sheet, from 1. Empty rows are left out. */
  readonly rows: readonly { readonly cells: readonly string[]; readonly line: number }[]
  readonly faults: readonly FileFault[]
}

export interface XlsxOptions {
  readonly fileName: string
  /** Name of the sheet to read; the first that shows and has cells where it is left out. */
  readonly sheet?: string | undefined
}

/** Unpacked, all parts together; a table of 50,000 finds has some 20 MiB. */
const mostUnpacked = 2 ** 27
const told = 20

/**
 * Reads one sheet of a spreadsheet (xlsx, ECMA-376) as text. Values only: a formula is never worked out, the value that
 * was stored with it is taken, and both formulas and merged cells are told. Dates become ISO 8601, yes and no `true` and
 * `false`; numbers have all their figures.
 *
 * Cost    the sheet in memory, twice for a moment.
 * Faults  SurveyError('wrong-extension') for an xls of old, ('broken-file') for no workbook, ('file-too-large') above 128 MiB
 *         unpacked, ('unsafe-file') for an archive that swells, ('not-found') for a sheet that is not there.
 */
export async function readXlsx(bytes: Uint8Array, { fileName, sheet }: XlsxOptions): Promise<XlsxTable> {
  refuseOldKind(bytes, fileName)
  const faults = new FaultList()
  const { entries, size } = xlsxEntries(bytes, fileName)
  if (size > mostUnpacked) {
    const text = `${fileName} holds ${Math.round(size / 2 ** 20)} MiB unpacked, more than 128 MiB; save the one sheet as CSV.`
    throw new SurveyError('file-too-large', text)
  }
  const all = workbookSheets(bytes, fileName, faults)
  if (all.length === 0) {
    throw new SurveyError('broken-file', `${fileName} has no sheets in it; save it anew as .xlsx or as CSV.`)
  }
  const shown = all.filter(({ hidden }) => !hidden)
  const wanted =
    sheet === undefined ? (shown.length > 0 ? shown : all) : all.filter(({ name }) => name === sheet)
  if (wanted.length === 0) {
    const names = all.map(({ name }) => quoted(name)).join(', ')
    throw new SurveyError('not-found', `${fileName} has no sheet ${quoted(sheet ?? '')}; it has ${names}.`)
  }
  const { chosen, rows } = await firstFilled({ bytes, entries, fileName }, wanted)
  if (chosen.part !== null) tellMarks(sheetMarks(bytes, chosen.part, fileName, faults), faults)
  if (sheet === undefined && shown.length > 1) {
    faults.note(null, 'assumed', `The sheet ${quoted(chosen.name)} was read, of ${shown.length}.`)
  }
  if (rows.length === 0) faults.note(null, 'empty-file', `The sheet ${quoted(chosen.name)} has no rows.`)
  return { sheets: shown.map(({ name }) => name), sheet: chosen.name, rows, faults: faults.list() }
}

function refuseOldKind(bytes: Uint8Array, fileName: string): void {
  const head = [...bytes.subarray(0, 4)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
  if (head === 'd0cf11e0') {
    const text = `${fileName} is a workbook of the old kind (xls) or has a password; save it as .xlsx without one, or as CSV.`
    throw new SurveyError('wrong-extension', text)
  }
  if (bytes.length === 0) throw new SurveyError('empty-file', `${fileName} holds nothing.`)
}

type Rows = XlsxTable['rows']

interface Workbook {
  readonly bytes: Uint8Array
  readonly entries: readonly ZipEntry[]
  readonly fileName: string
}

async function firstFilled(
  book: Workbook,
  wanted: readonly WorkbookSheet[],
): Promise<{ readonly chosen: WorkbookSheet; readonly rows: Rows }> {
  let rows: Rows = []
  for (const chosen of wanted) {
    rows = await rowsOf(book, chosen)
    if (rows.length > 0) return { chosen, rows }
  }
  return { chosen: wanted[0]!, rows }
}

async function rowsOf({ bytes, entries, fileName }: Workbook, { name, part }: WorkbookSheet): Promise<Rows> {
  const plain = part === null ? null : plainWorkbook(bytes, entries, part, fileName)
  const broken = `The sheet ${quoted(name)} of ${fileName} cannot be read; save it anew as .xlsx or as CSV.`
  if (plain === null) throw new SurveyError('broken-file', broken)
  try {
    const data = await readSheet(plain.slice().buffer, name, { trim: false })
    return data.flatMap((row, i) => {
      const cells = row.map((value) => cellOf(value))
      return cells.every((cell) => cell.trim() === '') ? [] : [{ cells, line: i + 1 }]
    })
  } catch (cause) {
    throw new SurveyError('broken-file', broken, { cause })
  }
}

function cellOf(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'number') return plainDecimal(value)
  if (!(value instanceof Date)) return String(value)
  // Days are stored as fractions, so times come out some milliseconds off.
  const second = Math.round(value.getTime() / 1000) * 1000
  const iso = new Date(second).toISOString()
  return iso.endsWith('T00:00:00.000Z') ? iso.slice(0, 10) : iso.slice(0, 19)
}

const rowOf = (cell: string): number | null => {
  const row = Number(/\d+/.exec(cell)?.[0])
  return Number.isNaN(row) ? null : row
}

function tellMarks(marks: ReturnType<typeof sheetMarks>, faults: FaultList): void {
  const some = (cells: readonly string[]): string =>
    cells.length > told
      ? `${cells.slice(0, told).join(', ')} and ${cells.length - told} more`
      : cells.join(', ')
  const { merged, formulas, withoutValue } = marks
  if (merged.length > 0) {
    const text = `Merged cells: ${some(merged)}. Their value counts for the first of them only; the others are empty.`
    faults.note(rowOf(merged[0]!), 'assumed', text)
  }
  if (formulas.length > 0) {
    const text = `Formulas: ${some(formulas)}. The values stored with them were taken; nothing was worked out.`
    faults.note(rowOf(formulas[0]!), 'assumed', text)
  }
  for (const cell of withoutValue) {
    faults.add(
      rowOf(cell),
      'bad-value',
      `Cell ${cell} has a formula without a stored value; it was taken as empty.`,
    )
  }
}
