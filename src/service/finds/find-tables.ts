import { createHash } from 'node:crypto'
import { closeSync, openSync, readFileSync, readSync } from 'node:fs'
import type { FindsTableReply, TableColumn } from '#contract'
import { dateParser } from '#core/dating'
import { type FileFault, SurveyError } from '#core/faults'
import { type FindField, type FindRecord, findFields, parseFindNumber } from '#core/finds'
import type { PlanarGrid } from '#core/geodesy'
import type { RecordedFindspot } from '#core/record'
import { readTable } from '#formats/csv'
import {
  type ColumnUse,
  dryRunFinds,
  type FindsDryRun,
  type FindToAdd,
  headingsKey,
  ownHeadings,
  type TableRows,
} from '#formats/finds-table'
import { readXlsx } from '#formats/xlsx'
import type { FindToAdd as CatalogueFind, FindEdit, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { placeContent } from '../place.ts'
import { placesWritten, writtenRecord } from './find-places.ts'
import { vocabularies } from './vocabularies.ts'

const mostTold = 200
/** A catalogue of 50,000 finds is some 20 MB. */
const mostBytes = 256 * 2 ** 20

export interface TableWishes {
  /** How to read the columns, in their order; else as the headings say. */
  readonly columns?: readonly TableColumn[] | undefined
  /** False looks only. */
  readonly write: boolean
  /** Empty cells leave what is there, or take it away. */
  readonly emptyCells?: 'keep' | 'clear' | undefined
}

export interface TableOutcome {
  readonly reply: FindsTableReply
  readonly sha256: string
}

const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b

/** By its bytes. */
export const tableKind = (bytes: Uint8Array): 'xlsx' | 'csv' => (isZip(bytes) ? 'xlsx' : 'csv')

/** The rows of a CSV or a workbook. Faults: those of the file. */
export async function tableRows(
  name: string,
  bytes: Uint8Array,
): Promise<{ readonly rows: TableRows; readonly faults: readonly FileFault[] }> {
  return isZip(bytes) || /\.xlsx?$/i.test(name) ? readXlsx(bytes, { fileName: name }) : readTable(bytes, name)
}

const headingsWithin = 20
/** Columns that only a catalogue has: one of our own tables has all of them. */
const catalogueOnly = ['object_term', 'material_terms', 'from_year', 'where_now']

/** The first bytes of a file. */
function headOfFile(file: string, length: number): Uint8Array {
  const bytes = new Uint8Array(length)
  const handle = openSync(file, 'r')
  try {
    return bytes.subarray(0, readSync(handle, bytes, 0, length, 0))
  } finally {
    closeSync(handle)
  }
}

/**
 * True for a workbook, and for a CSV that is a table of the catalogue as it is written here, by columns that nothing else has. Any other CSV is
 * read as findspots, tracks or areas, as ever.
 */
export function isFindsTable(name: string, file: string): boolean {
  const head = headOfFile(file, 4096)
  if (/\.xlsx$/i.test(name)) return isZip(head)
  if (!/\.(csv|tsv|txt)$/i.test(name)) return false
  const lines = new TextDecoder().decode(head).split(/\r?\n/).slice(0, headingsWithin)
  return lines.some((line) => catalogueOnly.every((heading) => line.includes(heading)))
}

function checkedColumns(columns: readonly TableColumn[] | undefined): readonly ColumnUse[] | undefined {
  if (columns === undefined) return undefined
  const known = new Set<string>(choices().map(({ column }) => column))
  for (const { column } of columns) {
    if (column !== null && !known.has(column))
      throw new SurveyError('bad-value', `A column cannot be read as "${column}".`)
  }
  return columns as readonly ColumnUse[]
}

const placeLabels: Readonly<Record<string, string>> = {
  objectTypeTerm: 'Object, key of its term',
  materialTerms: 'Materials, keys of their terms',
  periodTerm: 'Period, key of its term',
  dating: 'Date, as written',
  lat: 'Latitude',
  lon: 'Longitude',
  easting: 'Easting',
  northing: 'Northing',
  epsg: 'Coordinate system (EPSG)',
  gridRef: 'Grid reference',
  position: 'Place in any notation',
  accuracyM: 'Accuracy (m)',
  foundOn: 'Found on',
}

/** Everything that a column of a table may be read as. */
function choices(): { column: string; label: string }[] {
  const columns = [...ownHeadings.map(([, column]) => column), 'dating' as const, 'position' as const]
  return [...new Set<string>(columns)].map((column) => ({
    column,
    label: column in findFields ? findFields[column as FindField].label : (placeLabels[column] ?? column),
  }))
}

/** The one other survey that all numbers of a table are of; null where some are not, or of several. */
function strangerOf({ adds, changes, same, conflicts }: FindsDryRun): string | null {
  if (adds.length + changes.length + same > 0 || conflicts.length === 0) return null
  if (conflicts.some(({ kind }) => kind !== 'other-survey')) return null
  const codes = new Set(conflicts.map(({ number }) => parseFindNumber(number)?.code))
  const [code] = codes
  return codes.size === 1 && code !== undefined ? code : null
}

/**
 * What a table would add and change. A number of another survey among others is a conflict; a table that is wholly of another survey is that
 * survey's catalogue, and its numbers are kept and told of.
 */
function dryRun(
  survey: SurveyFile,
  rows: TableRows,
  grid: PlanarGrid | null,
  { columns, emptyCells = 'keep' }: TableWishes,
): FindsDryRun {
  const finds = survey.catalogue.all()
  const runAs = (surveyCode: string): FindsDryRun =>
    dryRunFinds(rows, {
      surveyCode,
      known: finds.map((find) => ({ find: writtenRecord(find), givenNumber: find.givenNumber })),
      parseDate: dateParser(vocabularies().periods.terms),
      columns: checkedColumns(columns),
      emptyCells,
      placeOf: placesWritten(finds, grid),
      epsg: grid?.epsg,
    })
  const run = runAs(survey.identity().code)
  const stranger = strangerOf(run)
  if (stranger === null) return run
  const taken = runAs(stranger)
  const text = `All numbers are of survey ${stranger}: they are kept as they are, beside those of this survey.`
  return { ...taken, faults: [{ line: null, code: 'assumed', text }, ...taken.faults] }
}

/** The findspots of the rows that have a place, in the survey's grid. */
function placed(adds: readonly FindToAdd[], grid: PlanarGrid | null): CatalogueFind[] {
  const withPlace = adds.filter(({ place }) => place.position !== null)
  const findspots = withPlace.map(
    ({ place: { position, accuracyM, time } }): RecordedFindspot => ({
      epsg: position!.epsg,
      name: null,
      x: position!.x,
      y: position!.y,
      accuracyM,
      elevation: null,
      time,
      note: null,
      find: null,
      attributes: {},
    }),
  )
  const content = { kind: 'csv' as const, tracks: [], areas: [], findspots, faults: [] }
  const spots = placeContent(content, grid).placed.findspots
  const spotOf = new Map(withPlace.map((add, i) => [add, spots[i] ?? null]))
  return adds.map((add) => ({
    // The findspot that another survey called by this key is not here; its place is.
    record: { ...add.find, findspot: null, visit: null },
    givenNumber: add.givenNumber,
    foundAt: spotOf.get(add) ?? null,
  }))
}

function editsOf(survey: SurveyFile, run: FindsDryRun): FindEdit[] {
  const byNumber = new Map(survey.catalogue.all().map(({ record, id }) => [record.number, id]))
  return run.changes.map(({ number, changes }) => ({
    id: byNumber.get(number)!,
    patch: Object.fromEntries(
      changes.filter(({ field }) => field !== 'findspot').map(({ field, after }) => [field, after]),
    ) as Partial<FindRecord>,
  }))
}

const words = (value: unknown): string => {
  if (value === null || value === undefined) return ''
  if (Array.isArray(value)) return value.map(words).join('; ')
  return typeof value === 'object' ? String((value as { text?: string }).text ?? '') : String(value)
}

/**
 * Reads a table of finds (CSV or xlsx) into the catalogue, or says what that would do. Finds that the survey has are changed, never doubled; those
 * it has not are added, at the place that their row gives. The file is kept whole. One step of Undo.
 * Faults: SurveyError of the file ('broken-file', 'file-too-large', 'wrong-extension' …), 'bad-value' for an unknown column.
 */
export async function takeTable(
  survey: SurveyFile,
  name: string,
  file: string,
  wishes: TableWishes,
): Promise<TableOutcome> {
  const bytes = new Uint8Array(readFileSync(file))
  if (bytes.length > mostBytes) {
    throw new SurveyError(
      'file-too-large',
      `${name} is larger than 256 MiB: save the one table of finds as CSV.`,
    )
  }
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const { rows, faults } = await tableRows(name, bytes)
  const grid = surveyGrid(survey)
  const run = dryRun(survey, rows, grid, wishes)
  const something = run.adds.length + run.changes.length > 0
  if (wishes.write && something) {
    const kind = tableKind(bytes)
    survey.catalogue.take(placed(run.adds, grid), editsOf(survey, run), `table ${name}`, {
      name,
      kind,
      bytes,
      sha256,
    })
  }
  const reply: FindsTableReply = {
    name,
    key: headingsKey(run.columns.map(({ heading }) => heading)),
    columns: run.columns,
    choices: choices(),
    adds: run.adds.length,
    changes: run.changes.length,
    placed: run.adds.filter(({ place }) => place.position !== null).length,
    same: run.same,
    added: run.adds.slice(0, mostTold).map(({ line, find, givenNumber }) => ({
      line,
      number: find.number || (givenNumber ?? ''),
      object: find.objectType?.text ?? '',
    })),
    changed: run.changes.slice(0, mostTold).map(({ line, number, changes }) => ({
      line,
      number,
      fields: changes.map(({ field, before, after }) => ({
        label: findFields[field].label,
        before: words(before),
        after: words(after),
      })),
    })),
    conflicts: run.conflicts.slice(0, mostTold).map(({ line, text }) => ({ line, text })),
    faults: [...faults, ...run.faults],
    written: wishes.write,
  }
  return { reply, sha256 }
}
