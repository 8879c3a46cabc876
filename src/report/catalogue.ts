import type { FindRecord } from '#core/finds'
import { factsOf, headOf, textsOf } from './catalogue-facts.ts'
import {
  ink,
  leftEdge,
  lowestLine,
  type Page,
  printable,
  startPage,
  textWidth,
  writePageFoot,
  writeParagraph,
} from './page.ts'
import { dayOf } from './words.ts'

/** A photograph as it is printed: JPEG or PNG, upright, without what it says of its place. */
export interface CataloguePicture {
  readonly bytes: Uint8Array
  /** `obverse`, `profile`; printed below it. */
  readonly caption: string
}

export interface CatalogueInput {
  readonly survey: { readonly code: string; readonly title: string; readonly demo: boolean }
  /** In the order to print. */
  readonly finds: readonly FindRecord[]
  /** Place as exact as this copy may say; null keeps it back. */
  readonly placeOf: (find: FindRecord) => string | null
  /** At most three are printed of each find. */
  readonly picturesOf: (find: FindRecord) => readonly CataloguePicture[]
  readonly madeAt: Date
}

const pictureSide = 92
const gap = 8
const mostPictures = 3

/**
 * The catalogue of finds as the bytes of a PDF, A4: number, what it is, date with its certainty, measures, texts and
 * photographs. Finder, notes and where a find is now stay out; the place is as exact as it is handed in.
 *
 * Cost    some milliseconds a find without pictures.
 * Faults  RangeError for no finds. A picture that is neither JPEG nor PNG is named in its place.
 */
export async function findCatalogue(input: CatalogueInput): Promise<Uint8Array> {
  const { survey, finds, madeAt } = input
  if (finds.length === 0) throw new RangeError('a catalogue of no finds')
  const page = startPage(`${survey.title}: catalogue of finds`, madeAt)
  page.document.font('bold').fontSize(20)
  writeParagraph(page, survey.title)
  page.document.fontSize(12)
  const count = finds.length === 1 ? '1 find' : `${finds.length} finds`
  writeParagraph(page, `Catalogue of finds · survey ${survey.code} · ${count}`, { gapAbove: 1 })
  if (survey.demo) writeParagraph(page, 'Demo survey: farm and finds are invented.', { gapAbove: 3 })
  page.document.font('regular').fontSize(10)
  page.document.y += 8
  for (const find of finds) writeFind(page, find, input)
  if (page.replaced.size > 0) {
    writeParagraph(page, 'Characters that the font lacks are shown as “?”.', { small: true, gapAbove: 8 })
  }
  return writePageFoot(page, `Survey ${survey.code} · made ${dayOf(madeAt.toISOString())} with Lynchet`)
}

interface Line {
  readonly text: string
  readonly font: 'regular' | 'bold'
  readonly size: number
}

function writeFind(page: Page, find: FindRecord, { placeOf, picturesOf }: CatalogueInput): void {
  const { document } = page
  const pictures = picturesOf(find).slice(0, mostPictures)
  const width = textWidth(page) - pictures.length * (pictureSide + gap)
  const place = placeOf(find)
  const facts = [...factsOf(find), ...(place === null ? [] : [`found at ${place}`])]
  const lines: readonly Line[] = [
    { text: `${find.number}  ${headOf(find)}`, font: 'bold', size: 10.5 },
    ...(facts.length === 0 ? [] : [{ text: `${facts.join(' · ')}.`, font: 'regular', size: 9.5 } as const]),
    ...textsOf(find).map(
      ([label, text]) =>
        ({ text: label === '' ? text : `${label}: ${text}`, font: 'regular', size: 9.5 }) as const,
    ),
  ]
  const shown = lines.map((line) => ({ ...line, text: printable(page, line.text) }))
  const textHeight = shown.reduce((sum, line) => sum + heightOf(document, line, width), 0)
  const height = Math.max(textHeight, pictures.length > 0 ? pictureSide + 11 : 0)
  // What is longer than a page breaks where it must; all else stays together.
  const pageHeight = lowestLine(page) - document.page.margins.top
  if (document.y + Math.min(height, pageHeight) > lowestLine(page)) document.addPage()
  const top = document.y
  pictures.forEach((picture, i) => {
    drawPicture(page, picture, leftEdge + width + gap + i * (pictureSide + gap), top)
  })
  document.y = top
  for (const line of shown) {
    document.font(line.font).fontSize(line.size).fillColor(ink.text)
    document.text(line.text, leftEdge, document.y, { width, lineGap: 1.5 })
  }
  document.y = Math.max(document.y, document.y < top ? 0 : top + height) + gap
  document.moveTo(leftEdge, document.y - gap / 2).lineTo(leftEdge + textWidth(page), document.y - gap / 2)
  document.lineWidth(0.3).strokeColor(ink.line).stroke()
}

function heightOf(document: PDFKit.PDFDocument, { text, font, size }: Line, width: number): number {
  document.font(font).fontSize(size)
  return document.heightOfString(text, { width, lineGap: 1.5 })
}

function drawPicture(page: Page, { bytes, caption }: CataloguePicture, x: number, y: number): void {
  const { document } = page
  const known = (bytes[0] === 0xff && bytes[1] === 0xd8) || (bytes[0] === 0x89 && bytes[1] === 0x50)
  if (known) {
    document.image(Buffer.from(bytes), x, y, {
      fit: [pictureSide, pictureSide],
      align: 'center',
      valign: 'center',
    })
  }
  document.font('regular').fontSize(7.5).fillColor(ink.soft)
  const below = known ? caption : `${caption}: not shown`
  document.text(printable(page, below), x, y + pictureSide + 1, {
    width: pictureSide,
    height: 9,
    ellipsis: true,
    align: 'center',
  })
}
