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

/** What was found at a spot, for a list: the objects, or a dash. */
export function objectsText(spot: FindspotView): string {
  return spot.finds.map((find) => find.object).join(', ') || '–'
}

/** True if the words of `search` all stand somewhere in what is known of a spot. Upper and lower case are alike. */
export function matchesSearch(spot: FindspotView, search: string): boolean {
  const text = [spot.name, spot.gridRef, spot.note, ...spot.finds.map(findText)].join(' ').toLowerCase()
  return search
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word))
}
