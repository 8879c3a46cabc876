import { strToU8, Zip, ZipDeflate } from 'fflate'
import { guarded } from '#formats/csv'
import { plainDecimal } from '#formats/decimal'
import { escapeXml, xmlText } from '#formats/xml'

/** Text, a number, or nothing. */
export type XlsxCell = string | number | null

const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main'
const relationships = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships'
const packaging = 'http://schemas.openxmlformats.org/package/2006'
const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'

const contentTypes = `<Types xmlns="${packaging}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`
const rootRelations = `<Relationships xmlns="${packaging}/relationships"><Relationship Id="rId1" Type="${relationships}/officeDocument" Target="xl/workbook.xml"/></Relationships>`
const workbookRelations = `<Relationships xmlns="${packaging}/relationships"><Relationship Id="rId1" Type="${relationships}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="${relationships}/styles" Target="styles.xml"/></Relationships>`
/** Style 0 is plain, style 1 bold. */
const styles = `<styleSheet xmlns="${main}"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf/><xf fontId="1" applyFont="1"/></cellXfs></styleSheet>`

/** The same for all files, so that like cells make like bytes; the zip format cannot say a time before 1980. */
/** How hard to pack, of 1 to 9: with 6 a file of finds is a tenth smaller and takes a fifth longer. */
const level = 3
const madeAt = new Date(Date.UTC(2000, 0, 1, 12))

/** `A`, `Z`, `AA`. */
function columnName(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : columnName(Math.floor(index / 26) - 1) + letter
}

function cellXml(value: XlsxCell, place: string, style: string): string {
  if (value === null || value === '') return ''
  if (typeof value === 'number') {
    return Number.isFinite(value) ? `<c r="${place}"${style}><v>${plainDecimal(value)}</v></c>` : ''
  }
  return `<c r="${place}"${style} t="inlineStr"><is><t xml:space="preserve">${xmlText(guarded(value))}</t></is></c>`
}

/** The sheet piece by piece: the text of a large one would be hundreds of megabytes at once. */
function* sheetXml(headers: readonly string[], rows: Iterable<readonly XlsxCell[]>): Generator<string> {
  const columns = headers.map((_, i) => columnName(i))
  let row = 0
  const write = (cells: readonly XlsxCell[], style: string): string => {
    row += 1
    let written = `<row r="${row}">`
    for (let i = 0; i < cells.length; i++)
      written += cellXml(cells[i]!, (columns[i] ?? columnName(i)) + row, style)
    return `${written}</row>\n`
  }
  yield `${declaration}<worksheet xmlns="${main}"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>`
  let piece = write(headers, ' s="1"')
  for (const cells of rows) {
    piece += write(cells, '')
    if (piece.length < pieceLength) continue
    yield piece
    piece = ''
  }
  yield `${piece}</sheetData></worksheet>`
}

/** Text packed at once, in characters. */
const pieceLength = 1 << 18

/**
 * A workbook (xlsx, ECMA-376) of one sheet with a bold row of headers that stays in view. Text is written as text and never
 * runs; what would run once the sheet is saved as CSV is guarded by an apostrophe too, as in `csvTable`, and `cellText`
 * takes it off again. Numbers that are not finite are left empty. Like cells make like bytes.
 *
 * By hand, since write-excel-file 4.1.1 loses texts such as `valueOf` (decision 0005).
 *
 * Cost    one pass; the packed file in memory, the sheet's text only piece by piece.
 * Faults  RangeError for a sheet name that spreadsheets refuse (empty, over 31 characters, or with one of []:*?/\).
 */
export function writeXlsx(
  sheet: string,
  headers: readonly string[],
  rows: Iterable<readonly XlsxCell[]>,
): Uint8Array {
  if (!/^[^[\]:*?/\\]{1,31}$/.test(sheet)) throw new RangeError(`no sheet may be named “${sheet}”`)
  const packed: Uint8Array[] = []
  const zip = new Zip((error, bytes) => {
    if (error) throw error
    packed.push(bytes)
  })
  const add = (name: string, pieces: Iterable<string>): void => {
    const part = new ZipDeflate(name, { level })
    part.mtime = madeAt
    zip.add(part)
    for (const piece of pieces) part.push(strToU8(piece))
    part.push(new Uint8Array(0), true)
  }
  for (const [name, xml] of Object.entries({
    '[Content_Types].xml': contentTypes,
    '_rels/.rels': rootRelations,
    'xl/workbook.xml': `<workbook xmlns="${main}" xmlns:r="${relationships}"><sheets><sheet name="${escapeXml(sheet)}" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': workbookRelations,
    'xl/styles.xml': styles,
  }))
    add(name, [declaration + xml])
  add('xl/worksheets/sheet1.xml', sheetXml(headers, rows))
  zip.end()
  return joined(packed)
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
}
