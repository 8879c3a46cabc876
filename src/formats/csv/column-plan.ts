import { decimal } from '#formats/decimal'
import { type Field, fieldOf, type Unit } from '#formats/fields'
import { cellText } from './table-rows.ts'

/** What one column was taken to hold. */
export interface ColumnMeaning {
  /** As it stands in the file; `column 3` where the table has no header. */
  readonly header: string
  /** Null where the header says nothing known: such a column is kept by its name. */
  readonly field: Field | null
  readonly unit: Unit | null
}

export type TableKind = 'track' | 'findspots' | 'areas'

export interface ColumnPlan {
  readonly columns: readonly ColumnMeaning[]
  /** First column of each field. */
  readonly at: ReadonlyMap<Field, number>
  readonly kind: TableKind
}

/** Columns whose headers are looked at; those beyond are kept by number. */
const mostColumns = 1000

const first = (columns: readonly ColumnMeaning[]): Map<Field, number> => {
  const at = new Map<Field, number>()
  columns.forEach(({ field }, i) => {
    if (field !== null && !at.has(field)) at.set(field, i)
  })
  return at
}

/** Whether some columns give a position together. */
function hasPosition(at: ReadonlyMap<Field, number>): boolean {
  const both = (a: Field, b: Field): boolean => at.has(a) && at.has(b)
  return (
    both('lat', 'lon') ||
    both('easting', 'northing') ||
    both('x', 'y') ||
    at.has('gridRef') ||
    at.has('position')
  )
}

/** A plan from a row of headers; null if they give no position. `sample` are rows below it. */
export function planFromHeader(
  header: readonly string[],
  sample: readonly (readonly string[])[],
): ColumnPlan | null {
  const columns = header.slice(0, mostColumns).map((cell): ColumnMeaning => {
    const guess = fieldOf(cell)
    return { header: cellText(cell), field: guess?.field ?? null, unit: guess?.unit ?? null }
  })
  const at = first(columns)
  if (!hasPosition(at)) return null
  return settled(columns, sample)
}

/** A plan for a table without a header: two columns of numbers, or one of grid references, and perhaps a time. */
export function planFromValues(sample: readonly (readonly string[])[]): ColumnPlan | null {
  const row = sample[0] ?? []
  const [a, b] = [decimal(cellText(row[0])), decimal(cellText(row[1]))]
  const fields: (Field | null)[] = row.map(() => null)
  if (Number.isNaN(a) || Number.isNaN(b)) {
    if (!/^[A-Za-z]{1,2} ?\d{2,5} ?\d{2,5}$/.test(cellText(row[0]))) return null
    fields[0] = 'gridRef'
  } else {
    const angles = Math.abs(a) <= 90 && Math.abs(b) <= 180
    fields[0] = angles ? 'lat' : 'easting'
    fields[1] = angles ? 'lon' : 'northing'
  }
  const time = row.findIndex((cell) => /^\d{4}-\d{2}-\d{2}[T ]\d/.test(cellText(cell)))
  if (time > 0) fields[time] = 'time'
  const columns = fields.map((field, i) => ({ header: `column ${i + 1}`, field, unit: null }))
  return settled(columns, sample)
}

/** Decides what the values must decide: whether x and y are degrees, and what the table as a whole is. */
function settled(columns: readonly ColumnMeaning[], sample: readonly (readonly string[])[]): ColumnPlan {
  let settledColumns = columns
  const at = first(columns)
  if (at.has('x') && at.has('y')) {
    const within = (field: Field, limit: number): boolean =>
      sample.every((row) => !(Math.abs(decimal(cellText(row[at.get(field)!]))) > limit))
    const angles = within('x', 180) && within('y', 90)
    const meaning = (field: Field | null): Field | null =>
      field === 'x' ? (angles ? 'lon' : 'easting') : field === 'y' ? (angles ? 'lat' : 'northing') : field
    settledColumns = columns.map((column) => ({ ...column, field: meaning(column.field) }))
  }
  const found = first(settledColumns)
  return { columns: settledColumns, at: found, kind: kindOf(settledColumns, found) }
}

const ofFinds: readonly Field[] = ['object', 'material', 'period', 'count', 'weight', 'depth']

/** A table with times and no columns of finds, or one that says track, is a track; outlines say area and ring. */
function kindOf(columns: readonly ColumnMeaning[], at: ReadonlyMap<Field, number>): TableKind {
  if (at.has('area') && at.has('ring')) return 'areas'
  if (ofFinds.some((field) => at.has(field))) return 'findspots'
  if (at.has('track') || at.has('segment')) return 'track'
  const numberHeader = columns[at.get('number') ?? -1]?.header ?? ''
  const rowNumbers = numberHeader === '' || /^(no|num|number|#)\.?$/i.test(numberHeader)
  const told = at.has('name') || at.has('note') || !rowNumbers
  return at.has('time') && !told ? 'track' : 'findspots'
}
