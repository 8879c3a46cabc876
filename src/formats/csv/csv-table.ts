import { plainDecimal } from '#formats/decimal'

/** A cell that is text may begin like a formula; a number never is one. */
export type Cell = { readonly text: string } | string

export const textCell = (value: string | null): Cell => ({ text: value ?? '' })
export const numberCell = (value: number | null | undefined): Cell =>
  value === null || value === undefined || Number.isNaN(value) ? '' : plainDecimal(value)

/**
 * Text that a spreadsheet would run as a formula gets an apostrophe before it, and so does text that already looks so
 * guarded, so that reading (`cellText`) takes exactly one off again.
 */
export function guarded(text: string): string {
  return /^'*[=+\-@\t\r]/.test(text) ? `'${text}` : text
}

/** A cell as it stands in the file. */
function written(cell: Cell): string {
  if (typeof cell === 'string') return cell
  const safe = guarded(cell.text)
  return /[",\n\r]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/** The text of a table (RFC 4180, comma, CR LF) from its headers and rows. */
export function csvTable(headers: readonly string[], rows: Iterable<readonly Cell[]>): string {
  const lines = [headers.map((header) => written(textCell(header))).join(',')]
  for (const row of rows) lines.push(row.map(written).join(','))
  return `${lines.join('\r\n')}\r\n`
}
