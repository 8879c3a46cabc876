import { type FindField, type FindFieldFacts, findFieldNames, findFields } from './find-fields.ts'
import { parseFindNumber } from './find-number.ts'
import type { FindRecord } from './find-record.ts'

/** Something in a find that cannot be right. */
export interface FindFault {
  readonly field: FindField
  /** One sentence: what is wrong and what is allowed. */
  readonly text: string
}

/** What cannot be right in a find: amounts out of range, year 0, years that run backwards, an unknown choice. Empty if all can be. */
export function checkFind(find: FindRecord): readonly FindFault[] {
  const faults: FindFault[] = []
  for (const field of findFieldNames) {
    const text = faultOf(field, find[field])
    if (text !== null) faults.push({ field, text })
  }
  const { fromYear: from, toYear: to } = find
  if (from !== null && to !== null && from > to) {
    faults.push({ field: 'toYear', text: `The last year, ${to}, is before the first, ${from}.` })
  }
  return faults
}

function faultOf(field: FindField, value: unknown): string | null {
  if (value === null) return null
  const { label, shape }: FindFieldFacts = findFields[field]
  switch (shape.kind) {
    case 'number-of-find':
      return parseFindNumber(String(value)) === null
        ? `“${String(value)}” is no find number: it is written CODE-YEAR-NNN, such as NST-2026-007.`
        : null
    case 'year':
      if (value === 0) return 'There is no year 0: 1 BC is written -1 and is followed by 1.'
      return Number.isInteger(value) && Math.abs(Number(value)) <= 3_000_000 && Number(value) <= 2100
        ? null
        : `${label} is a whole year up to 2100, BC below zero.`
    case 'whole':
      return Number.isInteger(value) && Number(value) >= shape.least && Number(value) <= shape.most
        ? null
        : `${label} is a whole number from ${shape.least} to ${shape.most}.`
    case 'amount': {
      const number = Number(value)
      const low = shape.zero ? number >= 0 : number > 0
      return low && number <= shape.most
        ? null
        : `${label} lies ${shape.zero ? 'from' : 'above'} 0 up to ${shape.most}.`
    }
    case 'choice':
      return shape.of.includes(String(value)) ? null : `${label} is one of ${shape.of.join(', ')}.`
    case 'choices':
      return (value as readonly string[]).every((one) => shape.of.includes(one))
        ? null
        : `${label} is of ${shape.of.join(', ')}.`
    default:
      return null
  }
}
