import type { FindRow } from '#contract'
import { type FindField, findFields } from '#core/finds'
import { createStore } from '../state/store.ts'
import type { EditableField } from './field-text.ts'

/** One column of the table of finds. */
export interface FindsColumn {
  readonly key: keyof FindRow
  readonly title: string
  /** Pixels. */
  readonly width: number
  readonly number?: boolean
  /** The field that a cell changes; null for what is not typed. */
  readonly field: EditableField | null
  readonly text: (row: FindRow) => string
}

const plain = (value: string | number | null): string => (value === null ? '' : String(value))

function column(key: keyof FindRow, width: number, field: EditableField | null, title?: string): FindsColumn {
  const label = title ?? findFields[field as FindField].label
  const shape = field === null ? null : findFields[field].shape.kind
  const number = shape === 'amount' || shape === 'whole' || shape === 'year'
  return { key, title: label, width, field, number, text: (row) => plain(row[key]) }
}

/** Every column there is, in the order of a catalogue. */
export const allColumns: readonly FindsColumn[] = [
  column('number', 128, 'number'),
  column('object', 150, 'objectType'),
  column('material', 130, 'materials'),
  column('period', 130, 'period'),
  column('fromYear', 88, 'fromYear', 'From'),
  column('toYear', 88, 'toYear', 'To'),
  column('certainty', 100, 'certainty'),
  column('count', 72, 'count'),
  column('completeness', 128, 'completeness'),
  column('weightG', 100, 'weightG'),
  column('lengthMm', 110, 'lengthMm'),
  column('widthMm', 105, 'widthMm'),
  column('thicknessMm', 130, 'thicknessMm'),
  column('diameterMm', 125, 'diameterMm'),
  column('depthCm', 100, 'depthCm'),
  column('condition', 150, 'condition'),
  column('description', 220, 'description'),
  column('notes', 200, 'notes'),
  column('finder', 110, 'finder'),
  column('whereNow', 130, 'whereNow'),
  column('conservation', 150, 'conservation'),
  column('visit', 150, null, 'Visit'),
  column('gridRef', 130, null, 'Grid reference'),
  {
    ...column('foundAt', 110, null, 'Found'),
    text: ({ foundAt }) => (foundAt === null ? '' : foundAt.slice(0, 10)),
  },
  { ...column('photographs', 90, null, 'Pictures'), number: true },
]

const usual = 'number object material period weightG depthCm foundAt'.split(' ')
const key = 'lynchet.find-columns'

function remembered(): ReadonlySet<string> {
  try {
    const kept = localStorage.getItem(key)
    return new Set(kept === null ? usual : ['number', ...kept.split(' ')])
  } catch {
    return new Set(usual)
  }
}

/** Keys of the columns that are shown, as this browser remembers them; the number always is. */
export const shownColumns = createStore<ReadonlySet<string>>(remembered())
shownColumns.watch(() => {
  try {
    localStorage.setItem(key, [...shownColumns.get()].join(' '))
  } catch {
    // A private window may refuse; the choice then lasts as long as the page.
  }
})

export function toggleColumn(name: string): void {
  if (name === 'number') return
  shownColumns.set((now) => {
    const next = new Set(now)
    if (!next.delete(name)) next.add(name)
    return next
  })
}
