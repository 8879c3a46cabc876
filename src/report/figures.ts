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
import type { LandownerReportInput } from './report-input.ts'
import { areaInWords, durationInWords, lengthInWords, shareInWords } from './words.ts'

type Row = readonly [name: string, value: string]

/** The account of the ground, and how it was made. */
export function drawFigures(page: Page, { survey, areas }: LandownerReportInput): void {
  writeHeading(page, 'Figures')
  const area = areas.reduce((sum, { areaM2 }) => sum + areaM2, 0)
  const { cover } = survey
  if (cover === null) {
    drawRows(page, [['Search area', areaInWords(area)]])
    writeParagraph(page, 'The ground covered has not been worked out.', { gapAbove: 6 })
    return
  }
  const { gaps, passes } = cover
  const rows: Row[] = [
    ['Search area', areaInWords(cover.areaM2)],
    ['Ground covered', `${areaInWords(cover.coveredM2)}, ${shareInWords(cover.coveredShare)} of the area`],
    ['Not reached', `${areaInWords(gaps.areaM2)} in all`],
    ['Gaps listed', gaps.count === 0 ? 'none' : `${gaps.count}, the largest ${areaInWords(gaps.largestM2)}`],
    ['Passes', `${passes.mean.toFixed(2)} on average over the area, ${passes.max} at most`],
    ['Distance walked', lengthInWords(cover.distanceM)],
  ]
  if (cover.walkingS !== null) rows.push(['Time recorded', durationInWords(cover.walkingS)])
  drawRows(page, rows)
  writeHeading(page, 'How the figures were made')
  for (const note of howMade(survey)) writeParagraph(page, `– ${note}`, { gapAbove: 2 })
}

function howMade({ cover, coverStale, grid }: LandownerReportInput['survey']): string[] {
  if (cover === null) return []
  const { settings } = cover
  const notes = [
    `The swath was taken as ${settings.swathM} m wide along the recorded line; steps longer than ${settings.maxJumpM} m or ` +
      `${settings.maxJumpS} s were not counted as swept. Gaps under ${settings.minGapM2} m² are not listed.`,
    `Ground was counted in squares of ${cover.cellM} m, a square being covered when its middle was.`,
    ...cover.notes,
  ]
  if (grid) notes.push(`Positions are in ${grid.name} by ${grid.method}.`)
  if (coverStale)
    notes.unshift('The survey was changed after these figures were made: work the cover out anew.')
  return notes
}

function drawRows(page: Page, rows: readonly Row[]): void {
  for (const [name, value] of rows) drawRow(page, name, value)
}

/** One row with a hairline below, on a new page where it would not fit. */
function drawRow(page: Page, name: string, value: string): void {
  const { document } = page
  const valueAt = 130
  const width = textWidth(page)
  const text = printable(page, value)
  const height = document.heightOfString(text, { width: width - valueAt })
  if (document.y + height + 8 > lowestLine(page)) document.addPage()
  const top = document.y + 4
  document.text(printable(page, name), leftEdge, top, { width: valueAt - 8 })
  document.text(text, leftEdge + valueAt, top, { width: width - valueAt })
  document.y = top + height + 2
  hairline(page, document.y)
}

export function hairline(page: Page, y: number): void {
  const { document } = page
  document.moveTo(leftEdge, y).lineTo(leftEdge + textWidth(page), y)
  document.lineWidth(0.4).strokeColor(ink.line).stroke()
}
