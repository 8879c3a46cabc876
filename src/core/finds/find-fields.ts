import { certainties, completenesses, damageKinds, type FindRecord } from './find-record.ts'

/** How a field of a find is written and checked. */
export type FieldShape =
  | { readonly kind: 'text' | 'texts' | 'word' | 'words' | 'uuid' | 'year' | 'number-of-find' }
  /** Above zero, or zero too where `zero` says so, up to `most`. */
  | {
      readonly kind: 'amount'
      readonly unit: 'g' | 'mm' | 'cm' | 'h' | null
      readonly zero: boolean
      readonly most: number
    }
  | { readonly kind: 'whole'; readonly least: number; readonly most: number }
  | { readonly kind: 'choice' | 'choices'; readonly of: readonly string[] }

export interface FindFieldFacts {
  /** Plain words for a heading or a label. */
  readonly label: string
  readonly shape: FieldShape
}

const text = (label: string): FindFieldFacts => ({ label, shape: { kind: 'text' } })
const amount = (
  label: string,
  unit: 'g' | 'mm' | 'cm' | 'h',
  most: number,
  zero = false,
): FindFieldFacts => ({
  label,
  shape: { kind: 'amount', unit, zero, most },
})

/**
 * Every field of a find in the order of a catalogue: one list that screens, tables and checks share. The upper limits are
 * common practice (1 t, 10 m): they catch a slipped decimal point, not a rare object.
 */
export const findFields = {
  number: { label: 'Number', shape: { kind: 'number-of-find' } },
  objectType: { label: 'Object', shape: { kind: 'word' } },
  materials: { label: 'Materials', shape: { kind: 'words' } },
  period: { label: 'Period', shape: { kind: 'word' } },
  fromYear: { label: 'From year', shape: { kind: 'year' } },
  toYear: { label: 'To year', shape: { kind: 'year' } },
  certainty: { label: 'Certainty', shape: { kind: 'choice', of: certainties } },
  count: { label: 'Count', shape: { kind: 'whole', least: 1, most: 1_000_000 } },
  completeness: { label: 'Completeness', shape: { kind: 'choice', of: completenesses } },
  weightG: amount('Weight (g)', 'g', 1_000_000),
  lengthMm: amount('Length (mm)', 'mm', 10_000),
  widthMm: amount('Width (mm)', 'mm', 10_000),
  thicknessMm: amount('Thickness (mm)', 'mm', 10_000),
  diameterMm: amount('Diameter (mm)', 'mm', 10_000),
  dieAxisH: amount('Die axis (h)', 'h', 12),
  condition: text('Condition'),
  surface: text('Surface'),
  damage: { label: 'Damage', shape: { kind: 'choices', of: damageKinds } },
  decoration: text('Decoration'),
  description: text('Description'),
  parallels: { label: 'Parallels', shape: { kind: 'texts' } },
  conservation: text('Conservation'),
  warnings: { label: 'Warnings', shape: { kind: 'texts' } },
  depthCm: amount('Depth (cm)', 'cm', 1_000, true),
  lay: text('How it lay'),
  signalNote: text('Signal note'),
  finder: text('Finder'),
  whereNow: text('Where now'),
  notes: text('Notes'),
  findspot: { label: 'Findspot', shape: { kind: 'uuid' } },
  visit: { label: 'Visit', shape: { kind: 'uuid' } },
} as const satisfies Record<keyof FindRecord, FindFieldFacts>

export type FindField = keyof FindRecord

export const findFieldNames = Object.keys(findFields) as readonly FindField[]
