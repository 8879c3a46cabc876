/** Where one value stands in the text: from its first character to behind its last, and its line. */
interface JsonSpan {
  readonly from: number
  readonly to: number
  readonly line: number
}

export interface JsonScan {
  /** Where the text stops being JSON; null if it never does. */
  readonly error: { readonly line: number; readonly column: number } | null
  /** Complete values of the outermost object, by key; the first of each. */
  readonly members: ReadonlyMap<string, JsonSpan>
  /** Complete elements of the array that the outermost object holds as `features`. */
  readonly features: readonly JsonSpan[]
}

const numberPattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const wordPattern = /true|false|null/y

/**
 * Walks through JSON (RFC 8259) without building anything, to learn where it breaks and where its features lie: the
 * engine's own parser tells neither. Cost: one pass over the characters; some ten times slower than `JSON.parse`, so it is
 * run only once something is wrong.
 */
export function scanJson(text: string): JsonScan {
  return new JsonWalk(text).walk()
}

type Expected = 'value' | 'value or ]' | 'key' | 'key or }' | 'after'

class JsonWalk {
  readonly #text: string
  readonly #members = new Map<string, JsonSpan>()
  readonly #features: JsonSpan[] = []
  /** Open brackets, outermost first. */
  readonly #open: ('{' | '[')[] = []
  #at = 0
  #line = 1
  #lineStart = 0
  #key = ''
  #memberFrom = 0
  #memberLine = 1
  #featureFrom = 0
  #featureLine = 1
  #inFeatures = false

  constructor(text: string) {
    this.#text = text
  }

  walk(): JsonScan {
    let expected: Expected | null = 'value'
    while (expected !== null) {
      this.#skipSpace()
      if (expected === 'after' && this.#open.length === 0) break
      expected = this.#step(expected)
    }
    const whole = expected !== null && this.#at === this.#text.length
    const error = whole ? null : { line: this.#line, column: this.#at - this.#lineStart + 1 }
    return { error, members: this.#members, features: this.#features }
  }

  /** Takes one token; null where it is not one of those expected. */
  #step(expected: Expected): Expected | null {
    const character = this.#text[this.#at]
    const open = this.#open.at(-1)
    if (expected === 'after') {
      if (character === ',') {
        this.#at++
        return open === '{' ? 'key' : 'value'
      }
      return character === (open === '{' ? '}' : ']') ? this.#close() : null
    }
    if (expected === 'key' || expected === 'key or }') {
      if (expected === 'key or }' && character === '}') return this.#close()
      return this.#takeKey() ? 'value' : null
    }
    if (expected === 'value or ]' && character === ']') return this.#close()
    this.#begin()
    if (character === '{' || character === '[') {
      if (character === '[' && open === '{' && this.#open.length === 1 && this.#key === 'features') {
        this.#inFeatures = this.#features.length === 0
      }
      this.#open.push(character)
      this.#at++
      return character === '{' ? 'key or }' : 'value or ]'
    }
    const taken =
      character === '"' ? this.#takeString() : this.#take(numberPattern) || this.#take(wordPattern)
    if (!taken) return null
    this.#end()
    return 'after'
  }

  #begin(): void {
    if (this.#open.length === 1 && this.#open[0] === '{') {
      this.#memberFrom = this.#at
      this.#memberLine = this.#line
    } else if (this.#open.length === 2 && this.#inFeatures) {
      this.#featureFrom = this.#at
      this.#featureLine = this.#line
    }
  }

  #end(): void {
    if (this.#open.length === 1 && this.#open[0] === '{') {
      this.#inFeatures = false
      if (!this.#members.has(this.#key)) {
        this.#members.set(this.#key, { from: this.#memberFrom, to: this.#at, line: this.#memberLine })
      }
    } else if (this.#open.length === 2 && this.#inFeatures) {
      this.#features.push({ from: this.#featureFrom, to: this.#at, line: this.#featureLine })
    }
  }

  #close(): Expected {
    this.#open.pop()
    this.#at++
    this.#end()
    return 'after'
  }

  #takeKey(): boolean {
    const from = this.#at
    if (this.#text[from] !== '"' || !this.#takeString()) return false
    if (this.#open.length === 1) this.#key = this.#text.slice(from + 1, this.#at - 1)
    this.#skipSpace()
    if (this.#text[this.#at] !== ':') return false
    this.#at++
    return true
  }

  #takeString(): boolean {
    const text = this.#text
    let i = this.#at + 1
    for (; i < text.length; i++) {
      const code = text.charCodeAt(i)
      if (code === 34) {
        this.#at = i + 1
        return true
      }
      if (code < 32) break
      if (code === 92) {
        i++
        if (text[i] === 'u') {
          if (!/^[0-9a-fA-F]{4}$/.test(text.slice(i + 1, i + 5))) break
          i += 4
        } else if (!'"\\/bfnrt'.includes(text[i] ?? ' ')) break
      }
    }
    this.#at = Math.min(i, text.length)
    return false
  }

  #take(pattern: RegExp): boolean {
    pattern.lastIndex = this.#at
    const found = pattern.exec(this.#text)
    if (found !== null) this.#at = pattern.lastIndex
    return found !== null
  }

  #skipSpace(): void {
    for (; ; this.#at++) {
      const code = this.#text.charCodeAt(this.#at)
      if (code === 10) {
        this.#line++
        this.#lineStart = this.#at + 1
      } else if (code !== 32 && code !== 9 && code !== 13) return
    }
  }
}
