import type { FileFault } from '#core/faults'
import { type ByteSource, type Progress, wholeText } from '#formats/bytes'
import { FaultList } from '#formats/fault-list'
import { type Delimiter, delimiterOf } from './delimiter.ts'
import { forEachRow } from './table-rows.ts'

/** The rows of a table before anything is known of its columns. */
export interface PlainTable {
  readonly delimiter: Delimiter
  /** Cells as they stand in the file (see `cellText`), with the line that the row begins on, counted from 1. */
  readonly rows: readonly { readonly cells: readonly string[]; readonly line: number }[]
  readonly faults: readonly FileFault[]
}

/**
 * Reads a table as rows of text: comma, semicolon, tab or bar, as `readCsv`, but without asking what its columns mean.
 *
 * Cost    the text and all rows in memory.
 * Faults  SurveyError('file-too-large') above 256 Mi characters; all else is in `faults`.
 */
export function readTable(source: ByteSource, fileName: string, progress?: Progress): PlainTable {
  const faults = new FaultList()
  const raw = wholeText(source, fileName, faults, progress)
  const text = raw.includes('\r') ? raw.replace(/\r\n?/g, '\n') : raw
  const delimiter = delimiterOf(text)
  const rows: { cells: readonly string[]; line: number }[] = []
  forEachRow(text, delimiter, faults, (cells, line) => {
    if (!/^sep=.?$/i.test(cells.join('').trim())) rows.push({ cells, line })
  })
  return { delimiter, rows, faults: faults.list() }
}
