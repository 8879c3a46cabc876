import { zipSync } from 'fflate'
import type { FaultList } from '#formats/fault-list'
import { localName, readXml } from '#formats/xml'
import { type ZipEntry, zipEntries, zipEntryBytes } from '#formats/zip'

export interface WorkbookSheet {
  readonly name: string
  readonly hidden: boolean
  /** Part of the archive that holds its cells; null where the workbook names none. */
  readonly part: string | null
}

const limits = { text: 1 << 20 }

/** What the archive lists, with the sum of the sizes that it states. */
export function xlsxEntries(bytes: Uint8Array, fileName: string): { entries: ZipEntry[]; size: number } {
  const entries = zipEntries(bytes, fileName)
  return { entries, size: entries.reduce((sum, { size }) => sum + size, 0) }
}

/** The sheets of a workbook in its order (ECMA-376, SpreadsheetML 18.2.19); empty where there is no workbook. */
export function workbookSheets(bytes: Uint8Array, fileName: string, faults: FaultList): WorkbookSheet[] {
  const sheets: { name: string; hidden: boolean; id: string }[] = []
  eachElement(bytes, 'xl/workbook.xml', fileName, faults, (name, attributes) => {
    if (name !== 'sheet') return
    const id = Object.entries(attributes).find(([key]) => localName(key) === 'id' && key.includes(':'))?.[1]
    sheets.push({
      name: attributes.name ?? '',
      hidden: (attributes.state ?? 'visible') !== 'visible',
      id: id ?? '',
    })
  })
  const parts = new Map<string, string>()
  eachElement(bytes, 'xl/_rels/workbook.xml.rels', fileName, faults, (name, { Id: id, Target: target }) => {
    if (name !== 'Relationship' || id === undefined || target === undefined) return
    parts.set(id, target.startsWith('/') ? target.slice(1) : `xl/${target}`)
  })
  return sheets.map(({ name, hidden, id }) => ({ name, hidden, part: parts.get(id) ?? null }))
}

/**
 * A plain archive of the parts that hold one sheet's values, unpacked under our own bounds. An archive may lie about the sizes
 * of its parts; of this one they are true. Null where the sheet's part is not there.
 *
 * Faults  SurveyError('broken-file'), ('unsafe-file') as `zipEntryBytes`.
 */
export function plainWorkbook(
  bytes: Uint8Array,
  entries: readonly ZipEntry[],
  part: string,
  fileName: string,
): Uint8Array | null {
  const shared =
    /^(?:\[Content_Types\]\.xml|_rels\/\.rels|xl\/workbook\.xml|xl\/_rels\/workbook\.xml\.rels|xl\/sharedStrings\.xml|xl\/styles\.xml)$/i
  const parts: Record<string, Uint8Array> = {}
  for (const { name } of entries) {
    if (name !== part && !shared.test(name)) continue
    const content = zipEntryBytes(bytes, name, fileName)
    if (content !== null) parts[name] = content
  }
  return part in parts ? zipSync(parts, { level: 0 }) : null
}

/** What a sheet holds besides values. */
export interface SheetMarks {
  /** Ranges of merged cells: `A1:F1`. */
  readonly merged: readonly string[]
  /** Cells with a formula, and those of them that carry no value. */
  readonly formulas: readonly string[]
  readonly withoutValue: readonly string[]
}

/** Merged cells and formulas of one sheet. Formulas are only counted, never read. */
export function sheetMarks(bytes: Uint8Array, part: string, fileName: string, faults: FaultList): SheetMarks {
  const merged: string[] = []
  const formulas: string[] = []
  const withoutValue: string[] = []
  let cell = ''
  let formula = false
  let inValue = false
  let value = ''
  const settle = (): void => {
    if (formula) {
      formulas.push(cell)
      if (value === '') withoutValue.push(cell)
    }
    formula = false
    value = ''
  }
  const opened: string[] = []
  const source = zipEntryBytes(bytes, part, fileName)
  if (source === null) return { merged, formulas, withoutValue }
  readXml(source, fileName, faults, limits, () => ({
    open(qualified, attributes) {
      const name = localName(qualified)
      opened.push(name)
      if (name === 'c') cell = attributes.r ?? ''
      else if (name === 'f') formula = true
      else if (name === 'v') inValue = true
      else if (name === 'mergeCell' && attributes.ref !== undefined) merged.push(attributes.ref)
    },
    text(text) {
      if (inValue) value += text.trim()
    },
    close() {
      const name = opened.pop()
      if (name === 'v') inValue = false
      if (name === 'c') settle()
    },
  }))
  return { merged, formulas, withoutValue }
}

function eachElement(
  bytes: Uint8Array,
  part: string,
  fileName: string,
  faults: FaultList,
  onElement: (name: string, attributes: Readonly<Record<string, string>>) => void,
): void {
  const source = zipEntryBytes(bytes, part, fileName)
  if (source === null) return
  readXml(source, fileName, faults, limits, () => ({
    open: (name, attributes) => onElement(localName(name), attributes),
    text: () => undefined,
    close: () => undefined,
  }))
}
