/** One `KEYWORD["name", 1.5, OTHER[…]]` of well-known text. */
export interface WktNode {
  readonly keyword: string
  readonly values: readonly WktValue[]
}
type WktValue = string | number | WktNode

/** Far above any real definition (some 3000 characters, 6 deep). */
const longest = 20_000
const deepest = 16

const token =
  /\s*(?:"((?:[^"]|"")*)"|([A-Za-z_][A-Za-z0-9_]*)|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|([[\](),]))/y

/**
 * The tree that well-known text of a coordinate system spells (OGC 01-009 section 7, with brackets or parentheses); null
 * where it is none, is longer than 20,000 characters or nests more than 16 deep. Keywords come back in capitals, bare words
 * such as an axis direction as text. Cost: one pass.
 */
export function wktTree(text: string): WktNode | null {
  if (text.length > longest) return null
  const open: { keyword: string; values: WktValue[] }[] = []
  let word: string | null = null
  let root: WktNode | null = null
  token.lastIndex = 0
  while (root === null) {
    const found = token.exec(text)
    if (found === null) return null
    const [, quoted, bare, number, mark] = found
    const inside = open.at(-1)
    if (mark === '[' || mark === '(') {
      if (word === null || open.length >= deepest) return null
      open.push({ keyword: word.toUpperCase(), values: [] })
      word = null
      continue
    }
    if (inside !== undefined && word !== null) inside.values.push(word)
    word = bare ?? null
    if (inside === undefined) {
      if (bare === undefined) return null
    } else if (quoted !== undefined) inside.values.push(quoted.replaceAll('""', '"'))
    else if (number !== undefined) inside.values.push(Number(number))
    else if (mark === ']' || mark === ')') {
      open.pop()
      const outside = open.at(-1)
      if (outside === undefined) root = inside
      else outside.values.push(inside)
    }
  }
  return root
}

/** The first child of a keyword. */
export function childOf(node: WktNode, ...keywords: readonly string[]): WktNode | null {
  for (const value of node.values) {
    if (typeof value === 'object' && keywords.includes(value.keyword)) return value
  }
  return null
}

/** The name that a node states first, or nothing. */
export function nameOf(node: WktNode | null): string {
  const first = node?.values[0]
  return typeof first === 'string' ? first : ''
}

/** The number at a place among a node's values; NaN where there is none. */
export function numberAt(node: WktNode | null, place: number): number {
  const value = node?.values[place]
  return typeof value === 'number' ? value : Number.NaN
}
