/** The rows to draw of a long list: from `first` up to but not including `end`, with some spare at both ends. */
export interface RowWindow {
  readonly first: number
  readonly end: number
}

/**
 * Which of `rows` rows, each `rowHeight` high, can be seen when the list is scrolled by `top` in a box `height` high.
 * All in the same unit. `spare` rows are added on both sides so that a quick scroll shows no hole.
 */
export function rowWindow(
  rows: number,
  rowHeight: number,
  top: number,
  height: number,
  spare = 8,
): RowWindow {
  const first = Math.max(0, Math.min(rows, Math.floor(top / rowHeight) - spare))
  const end = Math.max(first, Math.min(rows, Math.ceil((top + height) / rowHeight) + spare))
  return { first, end }
}

/** The row to go to for a key, or null where the key moves nothing. `page` is the number of rows in sight. */
export function rowForKey(key: string, current: number, rows: number, page: number): number | null {
  if (rows === 0) return null
  const last = rows - 1
  const clamp = (row: number): number => Math.max(0, Math.min(last, row))
  switch (key) {
    case 'ArrowDown':
      return clamp(current + 1)
    case 'ArrowUp':
      return clamp(current - 1)
    case 'PageDown':
      return clamp(current + page)
    case 'PageUp':
      return clamp(current - page)
    case 'Home':
      return 0
    case 'End':
      return last
    default:
      return null
  }
}
