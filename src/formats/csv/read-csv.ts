import type { FileContent } from '#core/record'
import { type ByteSource, type Progress, wholeText } from '#formats/bytes'
import { decimal } from '#formats/decimal'
import { FaultList } from '#formats/fault-list'
import type { Field, Unit } from '#formats/fields'
import { dayOrderOf } from './cell-time.ts'
import {
  type ColumnMeaning,
  type ColumnPlan,
  planFromHeader,
  planFromValues,
  type TableKind,
} from './column-plan.ts'
import { type Delimiter, delimiterOf } from './delimiter.ts'
import { TableReader, type TableSettings } from './table-reader.ts'
import { cellText, forEachRow } from './table-rows.ts'

export interface CsvOptions {
  /** The name the user knows the file by; stands in sentences. */
  readonly fileName: string
  readonly progress?: Progress
  /** Grid of eastings and northings where no column names it; 27700 where left out. The assumption is said either way. */
  readonly epsg?: number
}

/** How a table was understood, to be shown. */
export interface CsvTable {
  readonly delimiter: Delimiter
  /** Line of the headers; null for a table without. */
  readonly headerLine: number | null
  readonly columns: readonly ColumnMeaning[]
  readonly kind: TableKind
}

export interface CsvContent extends FileContent {
  readonly kind: 'csv'
  /** Null where no column gives a position. */
  readonly table: CsvTable | null
}

interface Row {
  readonly cells: readonly string[]
  readonly line: number
}

/** Rows looked at before anything is decided, and rows within which the headers must stand. */
const sampled = 1000
const headerWithin = 10

/**
 * Reads a table as CSV: comma, semicolon, tab or bar; columns by their headers in many spellings. A position is latitude
 * and longitude, easting and northing, or a grid reference (its square's middle, half the diagonal as accuracy). A table
 * with times and no columns of finds, or one that says track, is a track; one with columns area and ring is areas; any
 * other is findspots. Rows without a usable position are left out, named by line; so are values that cannot be read.
 *
 * Text that looks like a formula stays text. A decimal comma is understood where the comma is not the delimiter.
 *
 * CRS     per row: EPSG:4326, or the grid stated, or `options.epsg`.
 * Cost    the text in memory, one pass, one row at a time after the first 1000.
 * Source  docs/methods/formats.md#csv
 * Faults  SurveyError('file-too-large') above 256 Mi characters; all else is in `faults`.
 */
export function readCsv(source: ByteSource, options: CsvOptions): CsvContent {
  const faults = new FaultList()
  const raw = wholeText(source, options.fileName, faults, options.progress)
  const text = raw.includes('\r') ? raw.replace(/\r\n?/g, '\n') : raw
  const delimiter = delimiterOf(text)
  const table = new TableStart(delimiter, options, faults)
  forEachRow(text, delimiter, faults, (cells, line) => table.row({ cells, line }))
  table.settle()
  const { reader, layout } = table
  const { tracks, areas } = reader?.finish() ?? { tracks: [], areas: [] }
  const findspots = reader?.findspots ?? []
  if (reader !== null && tracks.length + areas.length + findspots.length + faults.count === 0) {
    faults.note(null, 'empty-file', 'The table has no rows.')
  }
  return { kind: 'csv', tracks, areas, findspots, faults: faults.list(), table: layout }
}

/** Holds the first rows back until they have told what the table is; then passes all rows on. */
class TableStart {
  reader: TableReader | null = null
  layout: CsvTable | null = null
  readonly #delimiter: Delimiter
  readonly #options: CsvOptions
  readonly #faults: FaultList
  #held: Row[] = []
  #settled = false

  constructor(delimiter: Delimiter, options: CsvOptions, faults: FaultList) {
    this.#delimiter = delimiter
    this.#options = options
    this.#faults = faults
  }

  row(row: Row): void {
    if (this.#settled) {
      this.reader?.row(row.cells, row.line)
      return
    }
    this.#held.push(row)
    if (this.#held.length >= sampled) this.settle()
  }

  settle(): void {
    if (this.#settled) return
    this.#settled = true
    const rows = this.#held.filter(({ cells }) => !/^sep=.?$/i.test(cells.join('').trim()))
    this.#held = []
    const found = planOf(rows)
    if (found === null) {
      this.#refuse(rows[0])
      return
    }
    const { plan, headerAt } = found
    const body = rows.slice(headerAt + 1)
    if (headerAt > 0) {
      const text = `The headers were found on line ${rows[headerAt]!.line}; what stands above them was passed over.`
      this.#faults.note(rows[headerAt]!.line, 'assumed', text)
    }
    const settings = settingsOf(plan, body, this.#delimiter, this.#options.epsg, this.#faults)
    this.reader = new TableReader(plan, settings, this.#faults)
    const headerLine = headerAt < 0 ? null : rows[headerAt]!.line
    this.layout = { delimiter: this.#delimiter, headerLine, columns: plan.columns, kind: plan.kind }
    for (const { cells, line } of body) this.reader.row(cells, line)
  }

  #refuse(row: Row | undefined): void {
    if (row === undefined) {
      this.#faults.note(null, 'empty-file', 'The table has no rows.')
      return
    }
    const headers = row.cells.map(cellText).join(', ').slice(0, 200)
    const text = `No column gives a position: wanted are lat and lon, easting and northing, or a grid reference. The first row is: ${headers}.`
    this.#faults.note(row.line, 'missing-columns', text)
  }
}

function planOf(rows: readonly Row[]): { plan: ColumnPlan; headerAt: number } | null {
  for (let i = 0; i < Math.min(rows.length, headerWithin); i++) {
    const sample = rows.slice(i + 1).map(({ cells }) => cells)
    const plan = planFromHeader(rows[i]!.cells, sample)
    if (plan !== null) return { plan, headerAt: i }
  }
  const plan = planFromValues(rows.map(({ cells }) => cells))
  return plan === null ? null : { plan, headerAt: -1 }
}

function settingsOf(
  plan: ColumnPlan,
  body: readonly Row[],
  delimiter: Delimiter,
  epsg: number | undefined,
  faults: FaultList,
): TableSettings {
  const comma = delimiter !== ','
  const values = (field: Field): string[] => {
    const i = plan.at.get(field)
    return i === undefined ? [] : body.map(({ cells }) => cellText(cells[i]))
  }
  const dayOrder = dayOrderOf([...values('date'), ...values('time')])
  if (dayOrder === 'month first') {
    faults.note(
      null,
      'assumed',
      'Dates were read as month, day, year, since some make sense in that order only.',
    )
  }
  const depths = values('depth').map((text) => decimal(comma ? text.replace(',', '.') : text))
  const bare = depths.filter((depth) => !Number.isNaN(depth))
  const depthUnit: Unit = bare.length > 0 && bare.every((depth) => depth < 1) ? 'm' : 'cm'
  const named = plan.columns[plan.at.get('depth') ?? -1]?.unit ?? null
  if (bare.length > 0 && named === null) {
    const unit = depthUnit === 'm' ? 'metres' : 'centimetres'
    faults.note(null, 'assumed', `Depths were taken to be ${unit}, since their column names no unit.`)
  }
  return { comma, epsg, dayOrder, depthUnit }
}
