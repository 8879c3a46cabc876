import { fileURLToPath } from 'node:url'
import PDFDocument from 'pdfkit'

/** An open report, lengths in points (1/72 inch). */
export interface Page {
  readonly document: PDFKit.PDFDocument
  /** Characters that the font lacks, met so far. */
  readonly replaced: Set<string>
  readonly bytes: Promise<Uint8Array>
}

const margin = { top: 48, bottom: 56, left: 51, right: 51 }
/** The ink of the report: dark enough to read and to copy. */
export const ink = {
  text: '#1b1b1b',
  soft: '#555555',
  line: '#8a8a8a',
  covered: '#c9dcc4',
  gap: '#8c2d04',
} as const

const fontFile = (weight: string): string =>
  fileURLToPath(new URL(`../../data/fonts/atkinson-hyperlegible-next-${weight}.ttf`, import.meta.url))

/** Size of the pages in points, and the margins that text keeps. */
interface Paper {
  readonly size: 'A4' | [number, number]
  readonly margins: {
    readonly top: number
    readonly bottom: number
    readonly left: number
    readonly right: number
  }
}

const a4Portrait: Paper = { size: 'A4', margins: margin }

/** Starts a report. Title and time go into the file's own description; nothing else that changes from run to run does. */
export function startPage(title: string, madeAt: Date, paper: Paper = a4Portrait): Page {
  const document = new PDFDocument({
    size: paper.size,
    margins: paper.margins,
    bufferPages: true,
    lang: 'en-GB',
    displayTitle: true,
    pdfVersion: '1.7',
    info: { Title: title, Creator: 'Lynchet', Producer: 'Lynchet', CreationDate: madeAt },
  })
  const chunks: Uint8Array[] = []
  const bytes = new Promise<Uint8Array>((resolve, reject) => {
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk))
    document.on('end', () => resolve(Buffer.concat(chunks)))
    document.on('error', reject)
  })
  document.registerFont('regular', fontFile('regular'))
  document.registerFont('bold', fontFile('bold'))
  document.font('regular').fontSize(10).fillColor(ink.text)
  return { document, replaced: new Set(), bytes }
}

/** Width between the margins, points. */
export function textWidth(page: Page): number {
  return page.document.page.width - margin.left - margin.right
}

export const leftEdge = margin.left

/** Lowest line that text may reach, points from the top. */
export function lowestLine(page: Page): number {
  return page.document.page.height - margin.bottom
}

/** Text in the current font with what it lacks shown as `?`, so that nothing vanishes unseen. */
export function printable(page: Page, text: string): string {
  const has = glyphTest(page.document)
  return Array.from(text.replaceAll(/\s+/g, ' '), (character) => {
    if (has(character.codePointAt(0)!)) return character
    page.replaced.add(character)
    return '?'
  }).join('')
}

/** pdfkit keeps its fontkit font here; 0.20.2 has no public way to ask for a glyph. A test holds this in place. */
function glyphTest(document: PDFKit.PDFDocument): (codePoint: number) => boolean {
  const { font } = (
    document as unknown as { _font: { font: { hasGlyphForCodePoint(code: number): boolean } } }
  )._font
  return (codePoint) => font.hasGlyphForCodePoint(codePoint)
}

interface ParagraphOptions {
  readonly gapAbove?: number
  readonly small?: boolean
}

/** A paragraph across the page, below what stands there, in the font and size that are set (8 points if small). */
export function writeParagraph(
  page: Page,
  text: string,
  { gapAbove = 0, small = false }: ParagraphOptions = {},
): void {
  const { document } = page
  if (small) document.font('regular').fontSize(8.5)
  document.text(printable(page, text), leftEdge, document.y + gapAbove, {
    width: textWidth(page),
    lineGap: 1.5,
  })
}

export function writeHeading(page: Page, text: string): void {
  page.document.font('bold').fontSize(13)
  writeParagraph(page, text, { gapAbove: 10 })
  page.document.font('regular').fontSize(10)
}

/** Writes the foot of every page, closes the report and gives its bytes. */
export function writePageFoot(page: Page, words: string): Promise<Uint8Array> {
  const { document } = page
  const { start, count } = document.bufferedPageRange()
  for (let i = 0; i < count; i++) {
    document.switchToPage(start + i)
    // Below the margin pdfkit would open a new page.
    document.page.margins.bottom = 0
    document.font('regular').fontSize(8.5).fillColor(ink.soft)
    const line = `${words} · page ${i + 1} of ${count}`
    document.text(printable(page, line), leftEdge, document.page.height - 38, { width: textWidth(page) })
  }
  document.end()
  return page.bytes
}
