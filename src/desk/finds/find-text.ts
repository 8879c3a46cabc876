import type { FindspotView } from '#contract'
import { threeFigures } from '#ui'

type Find = FindspotView['finds'][number]

/** One find in a line: its number, what it is, how many, of what, when, how heavy, how deep; what is not known is left out. */
export function findText(find: Find): string {
  const many = find.count > 1 ? ` (${find.count})` : ''
  const parts = [
    `${find.number ? `${find.number} ` : ''}${find.object}${many}`,
    find.material,
    find.period,
    find.weightG === null ? null : `${threeFigures(find.weightG)} g`,
    find.depthM === null ? null : `${Math.round(find.depthM * 100)} cm deep`,
  ]
  return parts.filter((part) => part !== null && part !== '').join(', ')
}
