import type { RecordPatch } from '#contract'
import {
  type FieldShape,
  type FindField,
  type FindRecord,
  findFields,
  lengthFrom,
  weightFrom,
} from '#core/finds'

export type EditableField = Exclude<FindField, 'findspot' | 'visit'>

/** What a typed text makes of a field, with what was taken to get there; or why it cannot be taken. */
export type FieldAnswer =
  | { readonly patch: RecordPatch; readonly told: string | null }
  | { readonly refused: string }

/** A field of a record as text, as it is typed. */
export function fieldText(record: FindRecord, field: EditableField): string {
  const value = record[field]
  if (value === null) return ''
  if (typeof value === 'object' && 'text' in value) return value.text
  if (Array.isArray(value))
    return value
      .map((one: string | { text: string }) => (typeof one === 'string' ? one : one.text))
      .join('; ')
  return String(value)
}

const parts = (text: string): string[] =>
  text
    .split(/\s*[;\n]\s*/)
    .map((part) => part.trim())
    .filter((part) => part !== '')

function amount(text: string, shape: FieldShape & { readonly kind: 'amount' }, label: string) {
  const read =
    shape.unit === 'g'
      ? weightFrom(text, 'g')
      : shape.unit === 'mm' || shape.unit === 'cm'
        ? lengthFrom(text, shape.unit)
        : plainNumber(text)
  if ('refused' in read) return read
  const value = shape.unit === 'cm' ? Number((read.value / 10).toFixed(6)) : read.value
  const low = shape.zero ? value >= 0 : value > 0
  if (!low || value > shape.most)
    return { refused: `${label}: give a value ${shape.zero ? 'from' : 'above'} 0 up to ${shape.most}.` }
  return { value, told: read.told }
}

function plainNumber(
  text: string,
): { readonly value: number; readonly told: null } | { readonly refused: string } {
  const value = Number(text.replace(',', '.'))
  return Number.isFinite(value) ? { value, told: null } : { refused: `"${text}" is no number.` }
}

function year(text: string): { readonly value: number } | { readonly refused: string } {
  const bc = /^(\d+)\s*b\.?c\.?e?\.?$/i.exec(text)
  const ad = /^(?:a\.?d\.?\s*)?(-?\d+)(?:\s*(?:a\.?d\.?|c\.?e\.?))?$/i.exec(text.replace('−', '-'))
  const value = bc ? -Number(bc[1]) : Number(ad?.[1] ?? Number.NaN)
  if (!Number.isInteger(value)) return { refused: `"${text}" is no year: write 1250, or 120 BC.` }
  return value === 0 ? { refused: 'There is no year 0: 1 BC is followed by AD 1.' } : { value }
}

/** What a text means for a field. An empty text takes the value away. A word keeps its term only while it is not written anew. */
export function patchFromText(
  field: EditableField,
  typed: string,
  record: FindRecord | null = null,
): FieldAnswer {
  const text = typed.trim()
  const { label, shape } = findFields[field]
  const take = (value: unknown, told: string | null = null): FieldAnswer => ({
    patch: { [field]: value } as RecordPatch,
    told,
  })
  if (record !== null && text === fieldText(record, field)) return { patch: {}, told: null }
  switch (shape.kind) {
    case 'text':
      return take(text === '' ? null : text)
    case 'texts':
      return take(parts(text))
    case 'word':
      return take(text === '' ? null : { text, term: null })
    case 'words': {
      const known = new Map((record?.materials ?? []).map((word) => [word.text, word]))
      return take(parts(text).map((part) => known.get(part) ?? { text: part, term: null }))
    }
    case 'choice':
      if (text === '') return take(null)
      return (shape.of as readonly string[]).includes(text)
        ? take(text)
        : { refused: `${label}: write one of ${shape.of.join(', ')}.` }
    case 'choices': {
      const wrong = parts(text).find((part) => !(shape.of as readonly string[]).includes(part))
      return wrong === undefined
        ? take(parts(text))
        : { refused: `${label}: write any of ${shape.of.join(', ')}.` }
    }
    case 'year': {
      if (text === '') return take(null)
      const read = year(text)
      return 'refused' in read ? read : take(read.value)
    }
    case 'whole': {
      if (text === '') return take(null)
      const value = Number(text)
      return Number.isInteger(value) && value >= shape.least && value <= shape.most
        ? take(value)
        : { refused: `${label}: write a whole number from ${shape.least}.` }
    }
    case 'amount': {
      if (text === '') return take(null)
      const read = amount(text, shape, label)
      return 'refused' in read ? read : take(read.value, read.told)
    }
    case 'number-of-find':
      return text === '' ? { refused: 'A find keeps its number: write another, or leave it.' } : take(text)
    default:
      throw new RangeError(`${field} is not typed as text`)
  }
}
