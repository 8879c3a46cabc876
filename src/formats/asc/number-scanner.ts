import { decimal } from '#formats/decimal'

/** Why reading stopped: a text that is no number, a row too short or too long, more rows than there are. */
export interface ScannerStop {
  readonly what: 'text' | 'short' | 'long' | 'more'
  readonly line: number
  readonly row: number
  readonly found: number
  readonly text: string
}

const powers = Float64Array.from({ length: 23 }, (_, i) => 10 ** i)
/** The longest number that is taken. */
const longest = 400

/**
 * Reads white-space-separated numbers from pieces of a file into rows. Rows are lines where the first line holds one row; where it holds fewer values, and the second
 * not just one row, or a whole number of rows, line breaks mean nothing.
 *
 * Method  digits up to 15 are an exact integer over or times an exact power of ten (Clinger 1990), as in formats/decimal; the rest goes there.
 */
export class NumberScanner {
  readonly #columns: number
  readonly #rows: number
  readonly #none: number
  readonly #onRow: (values: Float32Array, row: number) => void
  readonly #values: Float32Array
  #column = 0
  #row = 0
  #line: number
  /** Null until the first row ends. */
  #rowIsLine: boolean | null = null
  /** How many values the first line had where they were fewer than a row, and which line that was. */
  #firstLine = 0
  #brokenAt = 0
  /** A number that the last piece broke off in. */
  #held: Uint8Array = new Uint8Array(0)
  #afterReturn = false

  constructor(
    columns: number,
    rows: number,
    none: number,
    line: number,
    onRow: (values: Float32Array, row: number) => void,
  ) {
    this.#columns = columns
    this.#rows = rows
    this.#none = none
    this.#line = line
    this.#onRow = onRow
    this.#values = new Float32Array(columns)
  }

  /** Rows that were given whole. */
  get row(): number {
    return this.#row
  }

  /** Null while all is well. */
  push(piece: Uint8Array): ScannerStop | null {
    if (this.#held.length === 0) return this.#scan(piece, false)
    const joined = new Uint8Array(this.#held.length + piece.length)
    joined.set(this.#held)
    joined.set(piece, this.#held.length)
    this.#held = new Uint8Array(0)
    return this.#scan(joined, false)
  }

  end(): ScannerStop | null {
    const held = this.#held
    this.#held = new Uint8Array(0)
    const stop = this.#scan(held, true)
    if (stop || this.#column === 0) return stop
    if (this.#column < this.#columns) return this.#stop('short', '')
    this.#give()
    return null
  }

  #scan(bytes: Uint8Array, last: boolean): ScannerStop | null {
    const end = bytes.length
    const values = this.#values
    const columns = this.#columns
    let at = 0
    while (at < end) {
      const code = bytes[at]!
      if (code <= 32) {
        at += 1
        if (code === 10 || code === 13) {
          const stop = this.#lineEnd(code)
          if (stop) return stop
        } else this.#afterReturn = false
        continue
      }
      this.#afterReturn = false
      const from = at
      let mantissa = 0
      let point = -1
      let plain = true
      if (code === 45 || code === 43) at += 1
      const digitsFrom = at
      for (; at < end; at++) {
        const digit = bytes[at]! - 48
        if (digit >= 0 && digit <= 9) mantissa = mantissa * 10 + digit
        else if (bytes[at] === 46 && point < 0) point = at
        else if (bytes[at]! <= 32) break
        else plain = false
      }
      if (at === end && !last) {
        if (end - from > longest) return this.#stop('text', textOf(bytes, from, end))
        this.#held = bytes.slice(from)
        return null
      }
      const digits = at - digitsFrom - (point < 0 ? 0 : 1)
      let value: number
      if (plain && digits > 0 && digits <= 15) {
        value = point < 0 ? mantissa : mantissa / powers[at - 1 - point]!
        if (code === 45) value = -value
      } else {
        const text = textOf(bytes, from, Math.min(at, from + longest))
        value = decimal(text)
        if (!Number.isFinite(value) && !/^[+-]?(nan|1\.#(qnan|ind))$/i.test(text))
          return this.#stop('text', text)
      }
      if (this.#row === this.#rows) return this.#stop('more', '')
      if (this.#column === columns) return this.#stop('long', '')
      values[this.#column++] = value === this.#none ? Number.NaN : value
      if (this.#column === columns && this.#rowIsLine !== true) {
        const stop = this.#rowWithin(bytes, at)
        if (stop) return stop
      }
    }
    return null
  }

  /** A row has its values, and lines are not, or not yet, known to be rows. Where the first line is one, its end gives the row. */
  #rowWithin(bytes: Uint8Array, at: number): ScannerStop | null {
    if (this.#rowIsLine === null) {
      const left = valuesLeft(bytes, at)
      if (left === 0) {
        this.#rowIsLine = true
        return null
      }
      if (left !== null && left % this.#columns !== 0)
        return { ...this.#stop('long', ''), found: this.#columns + left }
      this.#rowIsLine = false
    } else if (this.#row === 0 && this.#firstLine > 0) {
      const left = valuesLeft(bytes, at)
      if (left === this.#firstLine && this.#brokenAt === this.#line - 1)
        return { ...this.#stop('short', ''), line: this.#brokenAt, found: this.#firstLine }
    }
    this.#give()
    return null
  }

  #give(): void {
    this.#onRow(this.#values, this.#row)
    this.#row += 1
    this.#column = 0
  }

  #lineEnd(code: number): ScannerStop | null {
    const second = code === 10 && this.#afterReturn
    this.#afterReturn = code === 13
    if (second) return null
    const stop = this.#rowEnd()
    this.#line += 1
    return stop
  }

  #rowEnd(): ScannerStop | null {
    if (this.#column === 0) return null
    if (this.#column === this.#columns) this.#give()
    else if (this.#rowIsLine === null) {
      this.#rowIsLine = false
      this.#firstLine = this.#column
      this.#brokenAt = this.#line
    } else if (this.#rowIsLine) return this.#stop('short', '')
    return null
  }

  #stop(what: ScannerStop['what'], text: string): ScannerStop {
    return { what, text, line: this.#line, row: this.#row, found: this.#column }
  }
}

const textOf = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, from + longest)))

/** How many values follow on the line; null where the piece ends before the line does, but 0 where nothing follows in it. */
function valuesLeft(bytes: Uint8Array, at: number): number | null {
  let count = 0
  for (let i = at, within = false; i < bytes.length; i++) {
    const code = bytes[i]!
    if (code === 10 || code === 13) return count
    const blank = code <= 32
    if (!blank && !within) count += 1
    within = !blank
  }
  return count === 0 ? 0 : null
}
