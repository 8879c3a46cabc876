import {
  type CodedWord,
  certainties,
  completenesses,
  type DamageKind,
  damageKinds,
  type FindRecord,
} from '#core/finds'
import { numberAt, parsedJson, textAt } from './cells.ts'
import type { Cell, Row } from './connection.ts'

/** Fields of one text or number that stand in a column as they are. */
const plainColumn = {
  number: 'number',
  fromYear: 'from_year',
  toYear: 'to_year',
  certainty: 'certainty',
  count: 'count',
  completeness: 'completeness',
  weightG: 'weight_g',
  lengthMm: 'length_mm',
  widthMm: 'width_mm',
  thicknessMm: 'thickness_mm',
  diameterMm: 'diameter_mm',
  dieAxisH: 'die_axis_h',
  condition: 'condition',
  surface: 'surface',
  decoration: 'decoration',
  description: 'description',
  conservation: 'conservation',
  finder: 'finder',
  lay: 'lay',
  signalNote: 'signal_note',
  whereNow: 'where_now',
  notes: 'notes',
  visit: 'visit_uuid',
} as const satisfies Partial<Record<keyof FindRecord, string>>

/** Columns that hold a field in another form, by field: for telling a change of the row in the words of the record. */
const otherColumn = {
  objectType: 'object',
  materials: 'material',
  period: 'period',
  damage: 'damage',
  parallels: 'parallels',
  warnings: 'warnings',
  depthCm: 'depth_m',
  findspot: 'findspot_id',
} as const satisfies Partial<Record<keyof FindRecord, string>>

/** The field of the record that a column of `finds` belongs to. */
export const fieldOfColumn: ReadonlyMap<string, keyof FindRecord> = new Map(
  Object.entries({ ...plainColumn, ...otherColumn }).map(([field, column]) => [
    column,
    field as keyof FindRecord,
  ]),
)

const between = '; '

/** Materials as one text for people, the words and their terms beside it as JSON. */
function materialCells(materials: readonly CodedWord[]): Record<string, Cell> {
  if (materials.length === 0) return { material: null, materials: null }
  return {
    material: materials.map(({ text }) => text).join(between),
    materials: JSON.stringify(materials.map(({ text, term }) => ({ text, term }))),
  }
}

const listCell = (texts: readonly string[]): Cell => (texts.length === 0 ? null : JSON.stringify(texts))

/** Cells for the fields of a record; `findspot` is not among them, for rows point to findspots by their number. */
export function findCells(record: Partial<FindRecord>): Record<string, Cell> {
  const cells: Record<string, Cell> = {}
  for (const [field, column] of Object.entries(plainColumn) as [keyof typeof plainColumn, string][]) {
    const value = record[field]
    if (value !== undefined) cells[column] = value
  }
  const { objectType, materials, period, damage, parallels, warnings, depthCm } = record
  if (objectType !== undefined)
    Object.assign(cells, { object: objectType?.text ?? null, object_term: objectType?.term ?? null })
  if (materials !== undefined) Object.assign(cells, materialCells(materials))
  if (period !== undefined)
    Object.assign(cells, { period: period?.text ?? null, period_term: period?.term ?? null })
  if (damage !== undefined) cells.damage = damage.length === 0 ? null : damage.join(between)
  if (parallels !== undefined) cells.parallels = listCell(parallels)
  if (warnings !== undefined) cells.warnings = listCell(warnings)
  if (depthCm !== undefined) cells.depth_m = depthCm === null ? null : depthCm / 100
  return cells
}

function choiceAt<Choice extends string>(row: Row, column: string, of: readonly Choice[]): Choice | null {
  return of.find((choice) => choice === textAt(row, column)) ?? null
}

function wordAt(row: Row, column: string): CodedWord | null {
  const text = textAt(row, column)
  return text === null || text === '' ? null : { text, term: textAt(row, `${column}_term`) }
}

/** The words kept beside the text, where they still say the same: another program may have written the text anew. */
function materialsAt(row: Row): CodedWord[] {
  const text = textAt(row, 'material')
  if (text === null || text.trim() === '') return []
  const kept = textAt(row, 'materials')
  if (kept !== null) {
    const words = parsedJson(kept)
    if (Array.isArray(words) && words.every(isWord) && words.map((word) => word.text).join(between) === text)
      return words
  }
  return text.split(/\s*;\s*/).flatMap((part) => (part === '' ? [] : [{ text: part, term: null }]))
}

function isWord(value: unknown): value is CodedWord {
  const { text, term } = (value ?? {}) as Partial<CodedWord>
  return typeof text === 'string' && (term === null || typeof term === 'string')
}

/** A list of texts; a cell that is no such list is one text. */
function textsAt(row: Row, column: string): string[] {
  const text = textAt(row, column)
  if (text === null || text === '') return []
  const value = parsedJson(text)
  return Array.isArray(value) && value.every((one) => typeof one === 'string') ? value : [text]
}

/** Metres in the file, centimetres here: the factor must not leave a tail of decimals. */
const centimetres = (metres: number | null): number | null =>
  metres === null ? null : Number((metres * 100).toFixed(6))

/** The record of a row of `finds` that has `findspot_uuid` beside its own columns. */
export function findAt(row: Row): FindRecord {
  const text = (column: string): string | null => textAt(row, column)
  const number = (column: string): number | null => numberAt(row, column)
  const damage = (text('damage') ?? '').split(/\s*[;,]\s*/)
  return {
    number: text('number') ?? '',
    findspot: text('findspot_uuid'),
    visit: text('visit_uuid'),
    finder: text('finder'),
    depthCm: centimetres(number('depth_m')),
    lay: text('lay'),
    signalNote: text('signal_note'),
    objectType: wordAt(row, 'object'),
    materials: materialsAt(row),
    period: wordAt(row, 'period'),
    fromYear: number('from_year'),
    toYear: number('to_year'),
    certainty: choiceAt(row, 'certainty', certainties),
    count: number('count'),
    completeness: choiceAt(row, 'completeness', completenesses),
    weightG: number('weight_g'),
    lengthMm: number('length_mm'),
    widthMm: number('width_mm'),
    thicknessMm: number('thickness_mm'),
    diameterMm: number('diameter_mm'),
    dieAxisH: number('die_axis_h'),
    condition: text('condition'),
    surface: text('surface'),
    damage: damageKinds.filter((kind: DamageKind) => damage.includes(kind)),
    decoration: text('decoration'),
    description: text('description'),
    parallels: textsAt(row, 'parallels'),
    conservation: text('conservation'),
    warnings: textsAt(row, 'warnings'),
    whereNow: text('where_now'),
    notes: text('notes'),
  }
}
