/** Comments and CDATA, where an ampersand is itself, to their ends; then one that begins no reference. */
const pattern =
  /<!--[\s\S]*?(?:-->|$)|<!\[CDATA\[[\s\S]*?(?:\]\]>|$)|&(?!#\d{1,7};|#x[\dA-Fa-f]{1,6};|[A-Za-z_][\w.-]{0,30};)/g

/**
 * The text with every `&` that begins no reference written as `&amp;`, and the line of the first; null if there is none. A
 * parser that meets one takes all up to the next semicolon for the name of an entity, and can lose the rest of the file.
 * Cost: one pass.
 */
export function withAmpersands(text: string): { readonly text: string; readonly line: number } | null {
  let first = -1
  const mended = text.replace(pattern, (found: string, at: number) => {
    if (found !== '&') return found
    if (first < 0) first = at
    return '&amp;'
  })
  return first < 0 ? null : { text: mended, line: text.slice(0, first).split('\n').length }
}
