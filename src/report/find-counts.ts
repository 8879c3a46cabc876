import type { FindspotView } from '#contract'
import { hairline } from './figures.ts'
import {
  ink,
  leftEdge,
  lowestLine,
  type Page,
  printable,
  textWidth,
  writeHeading,
  writeParagraph,
} from './page.ts'

/** Finds counted: a row an object, a column a period. */
export interface FindCounts {
  readonly periods: readonly string[]
  readonly rows: readonly {
    readonly object: string
    readonly counts: readonly number[]
    readonly total: number
  }[]
  readonly total: number
  /** Findspots with no find described; each counts as one find. */
  readonly undescribed: number
}

/** English periods, early to late (from memory); others follow by name, and finds without one come last. */
const periodOrder = [
  'palaeolithic',
  'mesolithic',
  'neolithic',
  'bronze age',
  'iron age',
  'roman',
  'early medieval',
  'medieval',
  'post-medieval',
  'modern',
]
const noPeriod = 'no period'
const notDescribed = 'not described'
const mostPeriods = 6
const mostRows = 24

/** Counts finds by object and period. Nothing of where they lay is looked at. */
export function countFinds(findspots: readonly FindspotView[]): FindCounts {
  const counted = new Map<string, Map<string, number>>()
  let undescribed = 0
  const add = (object: string, period: string, count: number): void => {
    const row = counted.get(object) ?? new Map<string, number>()
    counted.set(object, row.set(period, (row.get(period) ?? 0) + count))
  }
  for (const { finds } of findspots) {
    if (finds.length === 0) {
      undescribed += 1
      add(notDescribed, noPeriod, 1)
    }
    for (const find of finds) {
      add(find.object.trim().toLowerCase(), find.period?.trim().toLowerCase() || noPeriod, find.count)
    }
  }
  const periods = [...new Set([...counted.values()].flatMap((row) => [...row.keys()]))].sort(byAge)
  const rows = [...counted].map(([object, row]) => {
    const counts = periods.map((period) => row.get(period) ?? 0)
    return { object, counts, total: sum(counts) }
  })
  rows.sort((a, b) => b.total - a.total || (a.object < b.object ? -1 : 1))
  return { periods, rows, total: sum(rows.map((row) => row.total)), undescribed }
}

const sum = (counts: readonly number[]): number => counts.reduce((total, count) => total + count, 0)

function byAge(a: string, b: string): number {
  const place = (period: string): number => {
    if (period === noPeriod) return 99
    const at = periodOrder.indexOf(period)
    return at < 0 ? 50 : at
  }
  return place(a) - place(b) || (a < b ? -1 : 1)
}

/** The counts as a table, cut to what a page holds: further periods and objects are summed and said. */
export function drawFindCounts(page: Page, findspots: readonly FindspotView[]): void {
  const { document } = page
  writeHeading(page, 'Finds')
  const all = countFinds(findspots)
  if (all.total === 0) {
    writeParagraph(page, 'No finds are recorded.')
    return
  }
  const counts = shortened(all)
  const columns = [...counts.periods, 'all']
  const columnWidth = Math.min(78, (textWidth(page) - 130) / columns.length)
  document.font('bold').fontSize(9)
  drawCells(page, ['object', ...columns], columnWidth)
  document.font('regular').fontSize(10)
  for (const row of counts.rows) {
    drawCells(
      page,
      [row.object, ...row.counts.map((count) => (count === 0 ? '·' : String(count))), String(row.total)],
      columnWidth,
    )
  }
  document.font('bold')
  const totals = counts.periods.map((_, column) => sum(counts.rows.map((row) => row.counts[column]!)))
  drawCells(page, ['all', ...totals.map(String), String(counts.total)], columnWidth)
  document.font('regular')
  if (all.undescribed > 0) {
    const words = all.undescribed === 1 ? 'One findspot has' : `${all.undescribed} findspots have`
    writeParagraph(page, `${words} no find described; each is counted as one find.`, { gapAbove: 4 })
  }
}

function shortened(counts: FindCounts): FindCounts {
  const periods = counts.periods.slice(0, mostPeriods)
  const late = counts.periods.length - periods.length
  const rows = counts.rows
    .slice(0, mostRows)
    .map((row) => ({ ...row, counts: joinedTail(row.counts, mostPeriods) }))
  const rest = counts.rows.slice(mostRows)
  if (rest.length > 0) {
    const tail = rest.map((row) => joinedTail(row.counts, mostPeriods))
    const joined = tail[0]!.map((_, column) => sum(tail.map((row) => row[column]!)))
    rows.push({ object: `${rest.length} other objects`, counts: joined, total: sum(joined) })
  }
  return { ...counts, rows, periods: late > 0 ? [...periods, `${late} other periods`] : periods }
}

/** The first `most` numbers, and the sum of the others where there are others. */
function joinedTail(counts: readonly number[], most: number): number[] {
  return counts.length > most ? [...counts.slice(0, most), sum(counts.slice(most))] : [...counts]
}

/** One row: a name to the left, counts flush right in their columns, a hairline below; on a new page where it would not fit. */
function drawCells(page: Page, [name, ...cells]: readonly string[], columnWidth: number): void {
  const { document } = page
  const nameWidth = textWidth(page) - columnWidth * cells.length - 6
  const texts = cells.map((cell) => printable(page, cell))
  const label = printable(page, name!)
  const height = Math.max(
    document.heightOfString(label, { width: nameWidth }),
    ...texts.map((text) => document.heightOfString(text, { width: columnWidth - 4 })),
  )
  if (document.y + height + 6 > lowestLine(page)) document.addPage()
  const top = document.y + 3
  document.fillColor(ink.text).text(label, leftEdge, top, { width: nameWidth })
  texts.forEach((text, i) => {
    const x = leftEdge + nameWidth + 6 + i * columnWidth
    document.text(text, x + 4, top, { width: columnWidth - 4, align: 'right' })
  })
  document.y = top + height + 1.5
  hairline(page, document.y)
}
