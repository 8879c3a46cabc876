import { CsvError, parse } from 'csv-parse/sync'
import type { FaultList } from '#formats/fault-list'
import type { Delimiter } from './delimiter.ts'

/** Longest row; a quotation mark that is never closed would else swallow the rest of the file in silence. */
const longestRow = 1 << 20

export type OnRow = (cells: readonly string[], line: number) => void

/**
 * Runs through the rows of a table (RFC 4180, quotes that stand loose in a cell taken as they are). `text` has `\n` for
 * line ends; `line` counts from 1. Where a quotation mark is opened and never closed, the rows before it stand and a fault
 * is noted. Cost: one pass, one row at a time.
 */
export function forEachRow(text: string, delimiter: Delimiter, faults: FaultList, onRow: OnRow): void {
  let last = 0
  try {
    parse(text, {
      delimiter,
      record_delimiter: '\n',
      relax_quotes: true,
      relax_column_count: true,
      skip_empty_lines: true,
      max_record_size: longestRow,
      on_record: (cells: string[], { lines }: { lines: number }) => {
        last = lines
        onRow(cells, lines)
        return null
      },
    })
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause
    const line = last + 1
    const what =
      cause.code === 'CSV_QUOTE_NOT_CLOSED' || cause.code === 'CSV_MAX_RECORD_SIZE'
        ? 'a quotation mark is opened and not closed'
        : 'this is no longer a table'
    faults.note(
      line,
      'broken-file',
      `Reading stopped after line ${last}: ${what}. The rows before were kept.`,
    )
  }
}

/** A cell as people see it: without white space around, and without the apostrophe that keeps a spreadsheet from taking text for a formula. */
export function cellText(cell: string | undefined): string {
  const text = cell?.trim() ?? ''
  return /^'+[=+\-@\t\r]/.test(text) ? text.slice(1) : text
}
