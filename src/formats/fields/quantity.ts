import { decimal } from '#formats/decimal'
import { type Unit, unitOf, unitSize } from './field-of.ts'

/**
 * A weight in grams or a length in metres from a cell: `12.5`, `12,5 g`, `1.2kg`, `30 cm`. A unit in the cell comes before
 * that of the column. NaN where the cell is no quantity of that kind. A decimal comma is understood where `comma` is set.
 *
 * @example quantity('15 cm', 'length', 'm', false) // 0.15
 */
export function quantity(text: string, kind: 'weight' | 'length', unit: Unit, comma: boolean): number {
  const parts = /^\s*([+-]?[\d.,eE]*\d\.?)\s*([\p{L}"]*)\.?\s*$/u.exec(text)
  if (parts === null) return Number.NaN
  const [, number = '', word = ''] = parts
  const named = word === '' ? unit : unitOf(word === '"' ? 'in' : word.toLowerCase())
  if (named === null || unitSize(named)[0] !== kind) return Number.NaN
  return decimal(comma ? number.replace(',', '.') : number) * unitSize(named)[1]
}
