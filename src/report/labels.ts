import { type LabelStock, labelCodeText, labelPlaces } from '#core/labels'
import { type CodeKind, codeModules, drawCode } from './code-modules.ts'
import { ink, type Page, printable, startPage } from './page.ts'

/** What one label says. Empty parts are left out; a blank label has a number and lines to write on. */
export interface LabelContent {
  readonly number: string
  readonly gridRef: string | null
  /** As it is to be printed. */
  readonly date: string | null
  /** What it is, in a few words; cut where there is no more room. */
  readonly text: string | null
  readonly blank: boolean
}

export interface LabelsInput {
  readonly survey: { readonly uuid: string; readonly code: string; readonly demo: boolean }
  readonly labels: readonly LabelContent[]
  readonly stock: LabelStock
  readonly code: CodeKind
  /** Labels of the first sheet that are already used. */
  readonly skip: number
  /** Moves all labels, for a printer that draws a sheet in askew. */
  readonly shiftMm: { readonly x: number; readonly y: number }
  readonly madeAt: Date
}

const points = 72 / 25.4

/**
 * Labels for bags as the bytes of a PDF: the find number as large as fits, its code (number and survey), grid reference,
 * date and a few words. Print at 100 %, not fitted to the page.
 *
 * Cost    some milliseconds a label, most of it the code.
 * Faults  RangeError for a number that is no find number, no labels at all, or more than 5000.
 */
export async function findLabels(input: LabelsInput): Promise<Uint8Array> {
  const { labels, stock, survey } = input
  if (labels.length === 0 || labels.length > 5000) throw new RangeError(`${labels.length} labels`)
  const page = startPage(`Labels of survey ${survey.code}`, input.madeAt, {
    size: [stock.pageWidth * points, stock.pageHeight * points],
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
  })
  let onPage = 0
  labelPlaces(stock, labels.length, input.skip).forEach((place, k) => {
    if (place.page > onPage) {
      page.document.addPage()
      onPage = place.page
    }
    drawLabel(page, input, labels[k]!, {
      x: (place.x + input.shiftMm.x) * points,
      y: (place.y + input.shiftMm.y) * points,
      width: stock.width * points,
      height: stock.height * points,
    })
  })
  page.document.end()
  return page.bytes
}

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

function drawLabel(page: Page, { survey, code }: LabelsInput, label: LabelContent, box: Box): void {
  const { document } = page
  // Printers and punches are off by a millimetre or two.
  const edge = Math.min(2.5 * points, box.height * 0.08)
  const inside = {
    x: box.x + edge,
    y: box.y + edge,
    width: box.width - 2 * edge,
    height: box.height - 2 * edge,
  }
  const codeSize = Math.min(inside.height * 0.72, inside.width * 0.36)
  const modules = codeModules(labelCodeText({ number: label.number, survey: survey.uuid }), code)
  document.font('bold').fillColor('#000000')
  document.fontSize(fittedSize(document, label.number, inside.width, inside.height * 0.34))
  document.text(label.number, inside.x, inside.y, { lineBreak: false })
  const below = inside.y + document.currentLineHeight()
  const room = inside.y + inside.height - below
  const square = Math.min(codeSize, room)
  drawCode(document, modules, {
    x: inside.x + inside.width - square,
    y: inside.y + inside.height - square,
    size: square,
  })
  const words = { x: inside.x, y: below, width: inside.width - square - 1.5 * points, height: room }
  if (label.blank) drawLines(document, words)
  else drawWords(page, label, survey.demo, words)
}

/** The size in points at which a line is no wider and no higher than given, up to 48. */
function fittedSize(document: PDFKit.PDFDocument, text: string, width: number, height: number): number {
  document.fontSize(100)
  const size = Math.min(
    (100 * width) / document.widthOfString(text),
    (100 * height) / document.currentLineHeight(),
  )
  return Math.min(size, 48)
}

/** Lines to write on by hand, as many as leave 5 mm each. */
function drawLines(document: PDFKit.PDFDocument, { x, y, width, height }: Box): void {
  const count = Math.max(1, Math.floor(height / (5 * points)))
  for (let i = 1; i <= count; i++) {
    const line = y + (i * height) / count
    document.moveTo(x, line).lineTo(x + width, line)
  }
  document.lineWidth(0.5).strokeColor(ink.line).stroke()
}

function drawWords(page: Page, label: LabelContent, demo: boolean, { x, y, width, height }: Box): void {
  const { document } = page
  const lines = [label.gridRef, label.date, demo ? 'Demo survey' : null].filter((line) => line !== null)
  const size = Math.max(5, Math.min(10, height / (lines.length + 3) / 1.25))
  document.font('regular').fillColor(ink.text)
  let at = y
  for (const line of lines) {
    const shown = printable(page, line)
    document.fontSize(Math.min(size, fittedSize(document, shown, width, size * 2)))
    if (at + document.currentLineHeight() > y + height) return
    document.text(shown, x, at, { lineBreak: false })
    at += document.currentLineHeight() * 1.02
  }
  document.fontSize(size)
  const left = y + height - at
  if (label.text === null || left < document.currentLineHeight()) return
  document.text(printable(page, label.text), x, at, { width, height: left, ellipsis: true, lineGap: 0 })
}
