import type { DateParser } from '#core/dating'
import type { FileFault } from '#core/faults'
import {
  type FindField,
  type FindRecord,
  findFieldNames,
  findFields,
  numberedFind,
  parseFindNumber,
} from '#core/finds'
import { cellSeconds, cellText, dayOrderOf, type RowPosition, RowPositions } from '#formats/csv'
import { FaultList, quoted } from '#formats/fault-list'
import type { Field } from '#formats/fields'
import { cellOfFind, type OwnColumn, settledCell } from './cell-codec.ts'
import { type ColumnUse, type FindColumn, guessColumns, isMeasured, placeColumns } from './find-columns.ts'
import { readCell } from './read-cell.ts'
import { type PlaceOf, placeTexts } from './write-finds.ts'

/** The rows of a table, from CSV or a workbook. */
export type TableRows = readonly { readonly cells: readonly string[]; readonly line: number }[]

export interface KnownFind {
  readonly find: FindRecord
  /** What a person had written on the bag, where it is not the number. */
  readonly givenNumber: string | null
}

export interface DryRunOptions {
  /** Code of the survey that the finds are to go into. */
  readonly surveyCode: string
  readonly known: readonly KnownFind[]
  readonly parseDate: DateParser
  /** How to read the columns, if not as the headings say. */
  readonly columns?: readonly ColumnUse[] | undefined
  /** What an empty cell does to a value that is there: nothing, or takes it away. */
  readonly emptyCells: 'keep' | 'clear'
  /** Places of the finds that are there, as they would be written; a row that says another is told of. */
  readonly placeOf: PlaceOf
  /** Grid of bare eastings and northings. */
  readonly epsg?: number | undefined
}

/** Where a row says its find lies; to be made into a findspot by the caller. */
export interface RowPlace {
  readonly position: RowPosition | null
  readonly accuracyM: number | null
  /** Seconds since 1970-01-01 UTC. */
  readonly time: number | null
}

/** A find that the table has and the survey has not. */
export interface FindToAdd {
  readonly line: number
  /** Its number is empty where the table gives none of this survey; then one is to be given out. */
  readonly find: FindRecord
  readonly givenNumber: string | null
  readonly place: RowPlace
}

export interface FieldChange {
  readonly field: FindField
  readonly before: FindRecord[FindField]
  readonly after: FindRecord[FindField]
}

/** A find that is there and would change. */
export interface FindToChange {
  readonly line: number
  readonly number: string
  readonly changes: readonly FieldChange[]
  readonly after: FindRecord
}

/** A row that is not taken over, and why. */
export interface RowConflict {
  readonly line: number
  readonly number: string
  readonly kind: 'number-twice' | 'other-survey'
  readonly text: string
}

/** What reading a table into a survey would do. Nothing is changed. */
export interface FindsDryRun {
  /** The columns as they were read; to be shown, changed, and remembered under `headingsKey`. */
  readonly columns: readonly ColumnUse[]
  readonly adds: readonly FindToAdd[]
  readonly changes: readonly FindToChange[]
  readonly conflicts: readonly RowConflict[]
  /** Rows whose find is there and would not change. */
  readonly same: number
  readonly faults: readonly FileFault[]
}

const headingsWithin = 20
const sampled = 500

/**
 * What a table of finds would add and change in a survey, with the faults of each row by its line. A cell that cannot be
 * read is left out and told; the rest of its row counts. A number given twice, or one of another survey, is a conflict, and
 * its row is not taken over. A number of another form (`SF 12`) is kept as the given number, and its find gets a new one.
 *
 * A table written by `findsCsv` and read into the same survey gives no adds, no changes, no conflicts.
 *
 * Cost  linear in cells.
 */
export function dryRunFinds(rows: TableRows, options: DryRunOptions): FindsDryRun {
  const faults = new FaultList()
  const head = headingRow(rows)
  if (head === null) {
    const text =
      'No row of headings with a number, an object or a material was found among the first 20 rows.'
    faults.note(rows[0]?.line ?? null, rows.length === 0 ? 'empty-file' : 'missing-columns', text)
    return { columns: [], adds: [], changes: [], conflicts: [], same: 0, faults: faults.list() }
  }
  const headings = rows[head]!.cells.map(cellText)
  const sample = rows.slice(head + 1, head + 1 + sampled).map(({ cells }) => cells)
  const columns = options.columns ?? guessColumns(headings, sample)
  if (columns.length !== headings.length) {
    throw new RangeError(`${columns.length} columns were told of, the table has ${headings.length}`)
  }
  const left = columns.filter(({ column, heading }) => column === null && heading.trim() !== '')
  if (left.length > 0) {
    const names = left.map(({ heading }) => quoted(heading)).join(', ')
    faults.note(
      rows[head]!.line,
      'unsupported-feature',
      `Left out, since their headings say nothing known: ${names}.`,
    )
  }
  const run = new DryRun(columns, rows.slice(head + 1), options, faults)
  for (const row of rows.slice(head + 1)) run.row(row.cells, row.line)
  return run.finish()
}

/** The row with most columns known, the first of them; at least two, or one that is the number or the object. */
function headingRow(rows: TableRows): number | null {
  let best: { at: number; known: number } | null = null
  for (const [at, { cells }] of rows.slice(0, headingsWithin).entries()) {
    const uses = guessColumns(cells.map(cellText), []).filter(({ column }) => column !== null)
    const telling = uses.some(
      ({ column }) => column === 'number' || column === 'objectType' || column === 'materials',
    )
    if (telling && uses.length > (best?.known ?? 0)) best = { at, known: uses.length }
  }
  return best?.at ?? null
}

/** Columns of the place by the names that the reader of positions has for them. */
const positionFields: Readonly<Partial<Record<FindColumn, Field>>> = {
  lat: 'lat',
  lon: 'lon',
  easting: 'easting',
  northing: 'northing',
  epsg: 'epsg',
  gridRef: 'gridRef',
  position: 'position',
}

class DryRun {
  readonly #columns: readonly ColumnUse[]
  readonly #options: DryRunOptions
  readonly #faults: FaultList
  readonly #at: ReadonlyMap<FindColumn, number>
  readonly #positions: RowPositions
  readonly #dayOrder: ReturnType<typeof dayOrderOf>
  readonly #byNumber: ReadonlyMap<string, KnownFind>
  readonly #byGiven: ReadonlyMap<string, KnownFind>
  readonly #seen = new Map<string, number>()
  readonly #adds: FindToAdd[] = []
  readonly #changes: FindToChange[] = []
  readonly #conflicts: RowConflict[] = []
  /** What was taken without being written, by column: how often, and the first time. */
  readonly #told = new Map<string, { count: number; readonly line: number; readonly first: string }>()
  #same = 0
  #bareAmounts = false

  constructor(columns: readonly ColumnUse[], body: TableRows, options: DryRunOptions, faults: FaultList) {
    this.#columns = columns
    this.#options = options
    this.#faults = faults
    this.#at = new Map(columns.flatMap(({ column }, i) => (column === null ? [] : [[column, i] as const])))
    const fields = [...this.#at].flatMap(([column, i]) => {
      const field = positionFields[column]
      return field === undefined ? [] : [[field, i] as const]
    })
    this.#positions = new RowPositions(new Map(fields), false, options.epsg)
    const foundOn = this.#at.get('foundOn')
    this.#dayOrder = dayOrderOf(
      foundOn === undefined ? [] : body.map(({ cells }) => cellText(cells[foundOn])),
    )
    this.#byNumber = new Map(options.known.map((known) => [known.find.number, known]))
    this.#byGiven = new Map(
      options.known.flatMap((known) =>
        known.givenNumber === null ? [] : [[known.givenNumber, known] as const],
      ),
    )
  }

  row(cells: readonly string[], line: number): void {
    if (cells.every((cell) => cell.trim() === '')) return
    const written = this.#cell(cells, 'number')
    const parts = parseFindNumber(written)
    const twice = written === '' ? undefined : this.#seen.get(written)
    if (twice !== undefined) {
      const text = `${quoted(written)} stands on line ${twice} already; two bags cannot share a number. This row was left out.`
      this.#conflict(line, written, 'number-twice', text)
      return
    }
    if (written !== '') this.#seen.set(written, line)
    if (parts !== null && parts.code !== this.#options.surveyCode) {
      const text = `${written} is a number of survey ${parts.code}, not of ${this.#options.surveyCode}. This row was left out.`
      this.#conflict(line, written, 'other-survey', text)
      return
    }
    const known = parts === null ? this.#byGiven.get(written) : this.#byNumber.get(written)
    if (known !== undefined) this.#compare(known.find, cells, line)
    else this.#add(cells, line, written, parts !== null)
  }

  finish(): FindsDryRun {
    if (this.#bareAmounts) {
      this.#faults.note(
        null,
        'assumed',
        'Weights without a unit were taken as grams, sizes as millimetres, depths as centimetres.',
      )
    }
    for (const [heading, { count, line, first }] of this.#told) {
      const text = `Column ${quoted(heading)}: ${count === 1 ? '1 cell was' : `${count} cells were`} converted; the first, ${first}.`
      this.#faults.note(line, 'assumed', text)
    }
    for (const note of this.#positions.notes()) this.#faults.note(null, 'assumed', note)
    return {
      columns: this.#columns,
      adds: this.#adds,
      changes: this.#changes,
      conflicts: this.#conflicts,
      same: this.#same,
      faults: this.#faults.list(),
    }
  }

  #tell(heading: string, line: number, cell: string, told: readonly string[]): void {
    const before = this.#told.get(heading)
    const first = `${quoted(cell)}: ${told.map((one) => one.replace(/\.$/, '')).join('; ')}`
    if (before === undefined) this.#told.set(heading, { count: 1, line, first })
    else before.count++
  }

  #cell(cells: readonly string[], column: FindColumn): string {
    return settledCell(cellText(cells[this.#at.get(column) ?? -1]))
  }

  #conflict(line: number, number: string, kind: RowConflict['kind'], text: string): void {
    this.#conflicts.push({ line, number, kind, text })
    this.#faults.add(line, 'bad-value', text)
  }

  #add(cells: readonly string[], line: number, written: string, isNumber: boolean): void {
    const find = { ...numberedFind(isNumber ? written : ''), ...this.#values(cells, line, null) }
    const givenNumber = isNumber || written === '' ? null : written
    this.#adds.push({ line, find, givenNumber, place: this.#place(cells, line) })
  }

  #compare(find: FindRecord, cells: readonly string[], line: number): void {
    this.#comparePlace(find, cells, line)
    const after = { ...find, ...this.#values(cells, line, find) }
    const changes = findFieldNames
      .filter((field) => JSON.stringify(after[field]) !== JSON.stringify(find[field]))
      .map((field) => ({ field, before: find[field], after: after[field] }))
    if (changes.length === 0) this.#same++
    else this.#changes.push({ line, number: find.number, changes, after })
  }

  #comparePlace(find: FindRecord, cells: readonly string[], line: number): void {
    const place = this.#options.placeOf(find)
    const texts = place === null ? null : placeTexts(place)
    const differs = placeColumns.filter((column) => {
      const cell = this.#cell(cells, column)
      const there = texts?.[column] ?? ''
      return cell !== '' && cell !== there && !(there !== '' && Number(cell) === Number(there))
    })
    if (differs.length === 0) return
    const names = differs.map((column) => quoted(this.#columns[this.#at.get(column)!]!.heading)).join(', ')
    const text = `${find.number} is there with another place (${names}); a table does not move finds, so move it on the map.`
    this.#faults.add(line, 'unsupported-feature', text)
  }

  /** What the row says of the find, but its number. A cell that reads as the find's own value is left alone. */
  #values(cells: readonly string[], line: number, find: FindRecord | null): Partial<FindRecord> {
    const values: Partial<Record<FindField, unknown>> = {}
    const context = {
      parseDate: this.#options.parseDate,
      termCell: (column: FindColumn) => this.#cell(cells, column),
    }
    for (const [i, use] of this.#columns.entries()) {
      const { column } = use
      if (column === null || column === 'number' || isPlaceColumn(column)) continue
      const cell = settledCell(cellText(cells[i]))
      if (find !== null && this.#unchanged(cells, column, cell, find)) continue
      if (cell === '') {
        if (find !== null && this.#options.emptyCells === 'clear' && column in findFields) {
          const field = column as FindField
          values[field] = numberedFind('')[field]
        }
        continue
      }
      const read = readCell(cell, use, context)
      if ('refused' in read) {
        this.#faults.add(
          line,
          'bad-value',
          `In column ${quoted(use.heading)}, ${quoted(cell)} cannot be read: ${read.refused.replace(/\.$/, '')}. The row was kept without it.`,
        )
        continue
      }
      if (read.told.length > 0) this.#tell(use.heading, line, cell, read.told)
      if (isMeasured(column) && use.unit === null && !hasOwnUnit(use.heading) && /^[\d.,]+$/.test(cell))
        this.#bareAmounts = true
      for (const [field, value] of Object.entries(read.values)) {
        // Years of their own columns come before those of a date in words.
        if (column === 'dating' && this.#cell(cells, field as FindColumn) !== '') continue
        values[field as FindField] = value
      }
    }
    return values as Partial<FindRecord>
  }

  #unchanged(cells: readonly string[], column: FindColumn, cell: string, find: FindRecord): boolean {
    if (column === 'dating') return false
    const beside = termColumn[column as OwnColumn]
    if (
      beside !== undefined &&
      this.#at.has(beside) &&
      !this.#matches(beside, this.#cell(cells, beside), find)
    )
      return false
    return this.#matches(column as OwnColumn, cell, find)
  }

  #matches(column: OwnColumn, cell: string, find: FindRecord): boolean {
    return settledCell(cellOfFind(find, column)) === cell
  }

  #place(cells: readonly string[], line: number): RowPlace {
    const given = placeColumns.some(
      (column) => positionFields[column] !== undefined && this.#cell(cells, column) !== '',
    )
    const found = given ? this.#positions.read(cells) : null
    if (found !== null && 'code' in found) {
      this.#faults.add(line, found.code, `The find was kept without a place: ${found.text}.`)
    }
    const position = found === null || 'code' in found ? null : found
    const foundOn = this.#cell(cells, 'foundOn')
    const time = foundOn === '' ? Number.NaN : cellSeconds(foundOn, '', this.#dayOrder)
    if (foundOn !== '' && Number.isNaN(time)) {
      this.#faults.add(
        line,
        'bad-value',
        `The day found, ${quoted(foundOn)}, cannot be read; the row was kept without it.`,
      )
    }
    const accuracy = this.#positions.number(this.#cell(cells, 'accuracyM'))
    return {
      position,
      accuracyM: accuracy >= 0 ? accuracy : (position?.accuracyM ?? null),
      time: Number.isNaN(time) ? null : time,
    }
  }
}

const termColumn: Readonly<Partial<Record<OwnColumn, OwnColumn>>> = {
  objectType: 'objectTypeTerm',
  materials: 'materialTerms',
  period: 'periodTerm',
}

const isPlaceColumn = (column: FindColumn): boolean => (placeColumns as readonly string[]).includes(column)
const hasOwnUnit = (heading: string): boolean => /_(?:g|mm|cm)$/.test(heading.trim())
