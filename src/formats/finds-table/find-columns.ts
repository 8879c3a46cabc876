import { type FindField, findFields } from '#core/finds'
import { type Field, fieldOf, type Unit } from '#formats/fields'

/** Columns for where a find lies, which belong to its findspot. */
export const placeColumns = [
  'lat',
  'lon',
  'easting',
  'northing',
  'epsg',
  'gridRef',
  'position',
  'accuracyM',
  'foundOn',
] as const
export type PlaceColumn = (typeof placeColumns)[number]

/** Coded terms beside their words, and a date in words that gives both years. */
const besides = ['objectTypeTerm', 'materialTerms', 'periodTerm', 'dating'] as const

/** What a column of a table of finds may hold. */
export type FindColumn = FindField | PlaceColumn | (typeof besides)[number]

/** Column names of our own tables, in their order. Reading goes by these names first, so that a table of ours is read as it was written. */
export const ownHeadings: readonly (readonly [string, FindColumn])[] = [
  ['number', 'number'],
  ['object', 'objectType'],
  ['object_term', 'objectTypeTerm'],
  ['materials', 'materials'],
  ['material_terms', 'materialTerms'],
  ['period', 'period'],
  ['period_term', 'periodTerm'],
  ['from_year', 'fromYear'],
  ['to_year', 'toYear'],
  ['certainty', 'certainty'],
  ['count', 'count'],
  ['completeness', 'completeness'],
  ['weight_g', 'weightG'],
  ['length_mm', 'lengthMm'],
  ['width_mm', 'widthMm'],
  ['thickness_mm', 'thicknessMm'],
  ['diameter_mm', 'diameterMm'],
  ['die_axis_h', 'dieAxisH'],
  ['condition', 'condition'],
  ['surface', 'surface'],
  ['damage', 'damage'],
  ['decoration', 'decoration'],
  ['description', 'description'],
  ['parallels', 'parallels'],
  ['conservation', 'conservation'],
  ['warnings', 'warnings'],
  ['depth_cm', 'depthCm'],
  ['how_it_lay', 'lay'],
  ['signal_note', 'signalNote'],
  ['finder', 'finder'],
  ['where_now', 'whereNow'],
  ['notes', 'notes'],
  ['findspot', 'findspot'],
  ['visit', 'visit'],
  ['lat', 'lat'],
  ['lon', 'lon'],
  ['easting', 'easting'],
  ['northing', 'northing'],
  ['epsg', 'epsg'],
  ['grid_ref', 'gridRef'],
  ['accuracy_m', 'accuracyM'],
  ['found_on', 'foundOn'],
]

/** Spellings of headings met in catalogues, in small letters (our own list); units are taken off before. */
const spellings: readonly (readonly [FindColumn, string])[] = [
  ['description', 'description, desc, details, identification notes'],
  ['notes', 'notes, note, comments, comment, remarks, remark, observations, find notes'],
  ['objectType', 'classification, type of object'],
  ['materials', 'materials, material 1'],
  ['dating', 'date, dating, dates, date range, date of object, object date, century, chronology'],
  [
    'fromYear',
    'from, date from, from date, from year, start, start date, start year, earliest, earliest date, year from',
  ],
  ['toYear', 'to, date to, to date, to year, end, end date, end year, latest, latest date, year to'],
  ['certainty', 'certainty, date certainty, dating certainty, period certainty, confidence'],
  ['completeness', 'completeness, complete, preservation'],
  ['lengthMm', 'length, height, l, len'],
  ['widthMm', 'width, breadth, w'],
  ['thicknessMm', 'thickness, depth of object, t, thick'],
  ['diameterMm', 'diameter, diam, dia, d'],
  ['dieAxisH', 'die axis, axis, die axis h, die rotation'],
  ['condition', 'condition, state, wear'],
  ['surface', 'surface, surface treatment, patina'],
  ['damage', 'damage, breaks, break'],
  ['decoration', 'decoration, decorated, ornament'],
  ['parallels', 'parallels, references, reference, ref, parallel, bibliography, comparanda'],
  ['conservation', 'conservation, conserved, treatment'],
  ['warnings', 'warnings, warning'],
  ['lay', 'how it lay, lay, orientation'],
  ['signalNote', 'signal, signal note, reading, signal number'],
  ['finder', 'finder, found by, finder name, detectorist, who'],
  [
    'foundOn',
    'date found, found on, find date, discovery date, date of discovery, found, when found, date of find',
  ],
  ['whereNow', 'where now, location now, current location, storage, store, box, kept at, where kept'],
  ['gridRef', 'ngr, grid reference, grid ref, os grid ref, os grid reference, national grid reference'],
  ['accuracyM', 'accuracy, gps accuracy, precision'],
]

const byName = new Map<string, FindColumn>()
for (const [column, names] of spellings) for (const name of names.split(', ')) byName.set(name, column)

/** What the reader of findspots understands of a heading, in our terms. Depth is below the surface, as there. */
const ofField: Readonly<Partial<Record<Field, FindColumn>>> = {
  number: 'number',
  object: 'objectType',
  material: 'materials',
  period: 'period',
  count: 'count',
  weight: 'weightG',
  depth: 'depthCm',
  note: 'notes',
  lat: 'lat',
  lon: 'lon',
  easting: 'easting',
  northing: 'northing',
  epsg: 'epsg',
  gridRef: 'gridRef',
  position: 'position',
  accuracy: 'accuracyM',
  time: 'foundOn',
}

/** How one column of a table is to be read. The caller may change any and hand them back. */
export interface ColumnUse {
  /** The heading as it stands in the table. */
  readonly heading: string
  /** Null leaves the column out. */
  readonly column: FindColumn | null
  /** Unit of bare numbers in it, where the heading names one; for weights and sizes only. */
  readonly unit: Unit | null
}

const unitEnd = /[\s_(]*\(?\b(g|grams?|kg|mg|oz|ounces?|mm|cm|m|metres?|in|inch|inches)\.?\)?\s*$/i
const units: Readonly<Record<string, Unit>> = {
  g: 'g',
  gram: 'g',
  grams: 'g',
  kg: 'kg',
  mg: 'mg',
  oz: 'oz',
  ounce: 'oz',
  ounces: 'oz',
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  metre: 'm',
  metres: 'm',
  in: 'in',
  inch: 'in',
  inches: 'in',
}

/**
 * What the headings say their columns hold, each kind of column once: the first that says so. Our own names come first,
 * then spellings met in catalogues. Null for headings that say nothing known.
 *
 * A column headed just "date" may be of the object or of the day it was found: `sample`, rows below the headings, decides.
 *
 * @example guessColumns(['Find No.', 'Weight (oz)'], []) // number; weightG in oz
 */
export function guessColumns(
  headings: readonly string[],
  sample: readonly (readonly string[])[],
): readonly ColumnUse[] {
  const own = new Map(ownHeadings)
  const taken = new Set<FindColumn>()
  const guessed = headings.map((heading): ColumnUse => {
    const found = own.has(heading.trim())
      ? { column: own.get(heading.trim())!, unit: null }
      : guessOf(heading.slice(0, 200))
    if (found === null || taken.has(found.column)) return { heading, column: null, unit: null }
    taken.add(found.column)
    return { heading, ...found }
  })
  if (taken.has('foundOn')) return guessed
  return guessed.map((use, i) =>
    use.column === 'dating' && /^dates?$/.test(wordsOf(use.heading)) && holdsDays(sample, i)
      ? { ...use, column: 'foundOn' }
      : use,
  )
}

const day =
  /^\s*(?:\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}|\d{4}-\d{2}-\d{2}|\d{1,2}(?:st|nd|rd|th)? [a-z]{3,9},? \d{4})\b/i

/** Whether most of the filled cells of a column are days of a calendar. */
function holdsDays(sample: readonly (readonly string[])[], column: number): boolean {
  const filled = sample.map((cells) => cells[column] ?? '').filter((cell) => cell.trim() !== '')
  return filled.length > 0 && filled.filter((cell) => day.test(cell)).length > filled.length / 2
}

function guessOf(heading: string): { column: FindColumn; unit: Unit | null } | null {
  const spaced = heading.replace(/([a-z])([A-Z])/g, '$1 $2')
  const ending = unitEnd.exec(spaced)
  const bare = wordsOf(ending === null ? spaced : spaced.slice(0, ending.index))
  const whole = wordsOf(heading)
  const unit = ending === null ? null : (units[ending[1]!.toLowerCase()] ?? null)
  const column = byName.get(whole) ?? (unit === null ? undefined : byName.get(bare))
  if (column !== undefined) return { column, unit: isMeasured(column) ? unit : null }
  const field = fieldOf(heading)
  const known = field === null ? undefined : ofField[field.field]
  return known === undefined
    ? null
    : { column: known, unit: isMeasured(known) ? (field?.unit ?? null) : null }
}

const wordsOf = (text: string): string =>
  text
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
    .join(' ')

/** Whether a column holds a weight or a size. */
export function isMeasured(column: FindColumn): boolean {
  return (
    column in findFields && findFields[column as FindField].shape.kind === 'amount' && column !== 'dieAxisH'
  )
}

/** A key by which to remember how the columns of such a table were used: its headings, whatever their case and blanks. */
export function headingsKey(headings: readonly string[]): string {
  return headings.map(wordsOf).join('|')
}
