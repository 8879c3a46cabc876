import { type DateParser, isYear } from '#core/dating'
import {
  type AmountAnswer,
  type FindField,
  type FindFieldFacts,
  type FindRecord,
  findFields,
  lengthFrom,
  weightFrom,
} from '#core/finds'
import { decimal } from '#formats/decimal'
import type { Unit } from '#formats/fields'
import { partedList } from './cell-codec.ts'
import type { ColumnUse, FindColumn } from './find-columns.ts'

/** What one cell gave: parts of a find, or a sentence why not; `told` says what was taken without being written. */
export type CellReading =
  | { readonly values: Partial<Mutable<FindRecord>>; readonly told: readonly string[] }
  | { readonly refused: string }

type Mutable<T> = { -readonly [K in keyof T]: T[K] }

export interface CellContext {
  readonly parseDate: DateParser
  /** Terms of the columns beside, by column; empty where there are none. */
  readonly termCell: (column: FindColumn) => string
}

/** Reads a filled cell as its column says. Columns of terms and of the place are read elsewhere and give nothing here. */
export function readCell(cell: string, use: ColumnUse, context: CellContext): CellReading {
  const { column } = use
  if (column === 'dating') return datingCell(cell, context.parseDate)
  if (column === null || !(column in findFields)) return { values: {}, told: [] }
  const field = column as FindField
  const { shape }: FindFieldFacts = findFields[field]
  switch (shape.kind) {
    case 'year':
      return yearCell(cell, field as 'fromYear' | 'toYear', context.parseDate)
    case 'amount':
      return amountCell(cell, field, use.unit)
    case 'whole': {
      const count = decimal(cell)
      const fits = Number.isInteger(count) && count >= shape.least && count <= shape.most
      return fits
        ? values({ [field]: count })
        : { refused: `a whole number from ${shape.least} on is wanted` }
    }
    case 'choice': {
      const wanted = cell.trim().toLowerCase()
      const chosen = shape.of.find((one) => one === wanted)
      return chosen === undefined
        ? { refused: `wanted is one of ${shape.of.join(', ')}` }
        : values({ [field]: chosen })
    }
    case 'choices': {
      const chosen = partedList(cell.toLowerCase().replaceAll(',', ';'), false)
      const wrong = chosen.find((one) => !shape.of.includes(one))
      return wrong === undefined
        ? values({ [field]: chosen })
        : { refused: `wanted are ${shape.of.join(', ')}` }
    }
    case 'word':
      return values({ [field]: { text: cell, term: termOf(context.termCell(`${field}Term` as FindColumn)) } })
    case 'words': {
      const terms = partedList(context.termCell('materialTerms'), true)
      const words = partedList(cell, false).map((text, i) => ({ text, term: termOf(terms[i] ?? '') }))
      return values({ [field]: words })
    }
    case 'texts':
      return values({ [field]: partedList(cell, false) })
    case 'uuid':
      return /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(cell)
        ? values({ [field]: cell.toLowerCase() })
        : { refused: 'a UUID is wanted' }
    default:
      return values({ [field]: cell })
  }
}

const values = (given: Readonly<Record<string, unknown>>): CellReading => ({
  values: given as Partial<Mutable<FindRecord>>,
  told: [],
})

const termOf = (cell: string): string | null => (/^[a-z][a-z0-9-]*:\S+$/.test(cell) ? cell : null)

function yearCell(cell: string, field: 'fromYear' | 'toYear', parseDate: DateParser): CellReading {
  if (/^[+-]?\d{1,7}$/.test(cell)) {
    const year = Number(cell)
    return isYear(year) && year <= 2100 && year >= -3_000_000
      ? values({ [field]: year })
      : { refused: year === 0 ? 'there is no year 0: 1 BC is written -1' : 'a year up to 2100 is wanted' }
  }
  const answer = parseDate(cell)
  if ('refused' in answer) return answer
  const year = field === 'fromYear' ? answer.from : answer.to
  if (year === null) return { refused: 'it leaves this end open' }
  return { values: { [field]: year }, told: [`taken as ${year}`, ...answer.assumed] }
}

function datingCell(cell: string, parseDate: DateParser): CellReading {
  const answer = parseDate(cell)
  if ('refused' in answer) return answer
  const { from, to, certainty, assumed } = answer
  const given: Partial<Mutable<FindRecord>> = { fromYear: from, toYear: to }
  if (certainty !== null) given.certainty = certainty
  return { values: given, told: [`taken as ${from ?? 'open'} to ${to ?? 'open'}`, ...assumed] }
}

const perUnit = { g: 1, mm: 1, cm: 10, h: 1 } as const

function amountCell(cell: string, field: FindField, columnUnit: Unit | null): CellReading {
  const { shape }: FindFieldFacts = findFields[field]
  if (shape.kind !== 'amount' || shape.unit === null) return { values: {}, told: [] }
  const plain =
    shape.unit === 'h' || columnUnit === null || columnUnit === shape.unit ? decimal(cell) : Number.NaN
  const answer = Number.isNaN(plain) ? measured(cell, shape.unit, columnUnit) : { value: plain, told: null }
  if ('refused' in answer) return answer
  const value = answer.value
  const fits = (shape.zero ? value >= 0 : value > 0) && value <= shape.most
  if (!fits)
    return { refused: `it lies outside ${shape.zero ? 'from' : 'above'} 0 up to ${shape.most} ${shape.unit}` }
  return { values: { [field]: value }, told: answer.told === null ? [] : [answer.told] }
}

function measured(cell: string, own: 'g' | 'mm' | 'cm' | 'h', columnUnit: Unit | null): AmountAnswer {
  if (own === 'h') return { refused: 'an hour of the clock is wanted' }
  if (own === 'g') {
    const unit = columnUnit === 'kg' || columnUnit === 'oz' ? columnUnit : 'g'
    return weightFrom(columnUnit === 'mg' && /^[\d.,]+$/.test(cell) ? `${cell} mg` : cell, unit)
  }
  const unit =
    columnUnit === 'cm' || columnUnit === 'm' || columnUnit === 'in' || columnUnit === 'mm' ? columnUnit : own
  const answer = lengthFrom(cell, unit)
  return 'refused' in answer ? answer : { ...answer, value: answer.value / perUnit[own] }
}
