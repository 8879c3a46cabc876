import { type FindField, type FindFieldFacts, type FindRecord, findFields } from '#core/finds'
import { plainDecimal } from '#formats/decimal'
import type { FindColumn, PlaceColumn } from './find-columns.ts'

/** Several texts in one cell: `; ` between, and a backslash before `;` and `\` that belong to a text. */
function joinedList(parts: readonly string[]): string {
  return parts.map((part) => part.replace(/[\\;]/g, '\\$&')).join('; ')
}

/** The texts of such a cell; empty ones at the end are kept only where `keepEmpty` is set. */
export function partedList(cell: string, keepEmpty: boolean): readonly string[] {
  const parts: string[] = []
  let part = ''
  for (let i = 0; i < cell.length; i++) {
    const character = cell[i]!
    if (character === '\\' && i + 1 < cell.length) {
      i++
      part += cell[i]!
    } else if (character === ';') {
      parts.push(part.trim())
      part = ''
    } else part += character
  }
  parts.push(part.trim())
  return keepEmpty ? parts : parts.filter((one) => one !== '')
}

/** Every column that is written of a find itself; those of its place come from elsewhere. */
export type OwnColumn = Exclude<FindColumn, PlaceColumn | 'dating'>

/** A find's value in a column as a cell: text, a number, or null for not recorded. */
export function cellOfFind(find: FindRecord, column: OwnColumn): string | number | null {
  switch (column) {
    case 'objectTypeTerm':
      return find.objectType?.term ?? null
    case 'periodTerm':
      return find.period?.term ?? null
    case 'materialTerms':
      return find.materials.some(({ term }) => term !== null)
        ? joinedList(find.materials.map(({ term }) => term ?? ''))
        : null
    case 'objectType':
      return find.objectType?.text ?? null
    case 'period':
      return find.period?.text ?? null
    case 'materials':
      return find.materials.length === 0 ? null : joinedList(find.materials.map(({ text }) => text))
    default:
      return plainCell(find, column)
  }
}

function plainCell(find: FindRecord, field: FindField): string | number | null {
  const value = find[field]
  const { shape }: FindFieldFacts = findFields[field]
  if (shape.kind === 'texts' || shape.kind === 'choices') {
    const list = value as readonly string[]
    return list.length === 0 ? null : joinedList(list)
  }
  return typeof value === 'string' || typeof value === 'number' ? value : null
}

/** A cell as it comes back from a table: numbers plain, blanks at the ends gone, line breaks alike. */
export function settledCell(cell: string | number | null): string {
  if (cell === null) return ''
  return typeof cell === 'number' ? plainDecimal(cell) : cell.replace(/\r\n?/g, '\n').trim()
}
