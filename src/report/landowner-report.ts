import { drawFigures } from './figures.ts'
import { drawFindCounts } from './find-counts.ts'
import { type Page, startPage, writePageFoot, writeParagraph } from './page.ts'
import { drawPlan } from './plan-drawing.ts'
import type { LandownerReportInput } from './report-input.ts'
import { dayOf, daysInWords } from './words.ts'

const caution =
  'This is a record of one search, not advice. Covered means that a recorded line passed within half the swath; a receiver is ' +
  'wrong by metres, so a covered spot may have been missed and a gap may have been walked. What the law asks to be reported ' +
  'is decided by the finds officer and the coroner. Exact findspots are left out of this report on purpose.'

const demoWords =
  'Demo survey: farm, field, walks and finds are invented, and the place is open sea in the Wash. Nobody’s land is meant.'

/**
 * A report for the landowner, as the bytes of a PDF, A4: what was searched and when, a plan with the ground covered and
 * the gaps, figures with how they were made, and finds counted by object and period. No findspot is drawn or named.
 * Lines are drawn in strides of 3 m, so that the places where the walker stood to dig do not show.
 *
 * Cost  under a second for 35,000 fixes and some hundreds of gaps.
 */
export async function landownerReport(input: LandownerReportInput): Promise<Uint8Array> {
  const { survey, madeAt } = input
  const page = startPage(`${survey.title}: search report`, madeAt)
  writeHead(page, input)
  drawPlan(page, input)
  page.document.addPage()
  drawFigures(page, input)
  drawFindCounts(page, input.findspots)
  writeParagraph(page, caution, { gapAbove: 14, small: true })
  if (page.replaced.size > 0) {
    const list = [...page.replaced].map((character) => `U+${hexOf(character)}`).join(', ')
    writeParagraph(page, `Shown as “?” because the font has no such character: ${list}.`, { small: true })
  }
  return writePageFoot(page, `Survey ${survey.code} · made ${dayOf(madeAt.toISOString())} with Lynchet`)
}

function hexOf(character: string): string {
  return character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')
}

function writeHead(page: Page, { survey, tracks }: LandownerReportInput): void {
  const visits = daysInWords(tracks.filter((track) => track.walked).map((track) => track.start))
  const { document } = page
  document.font('bold').fontSize(20)
  writeParagraph(page, survey.title)
  document.fontSize(12)
  writeParagraph(page, `Search report for the landowner · survey ${survey.code}`, { gapAbove: 1 })
  document.font('regular').fontSize(10)
  writeParagraph(page, visits ?? 'The walks carry no dates.', { gapAbove: 3 })
  if (survey.demo) {
    document.font('bold')
    writeParagraph(page, demoWords, { gapAbove: 3 })
    document.font('regular')
  }
}
