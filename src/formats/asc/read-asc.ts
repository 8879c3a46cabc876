import type { FileFault } from '#core/faults'
import { FaultList, quoted } from '#formats/fault-list'
import { type AscHeader, AscHeaderReader } from './asc-header.ts'
import { NumberScanner } from './number-scanner.ts'

export interface AscTold {
  /** Called once, before the first row. Returning false ends the reading without a fault. */
  readonly onHeader: (header: AscHeader) => boolean
  /** Called for each row from the north, with heights that are only good until it returns: NaN for none. */
  readonly onRow: (values: Float32Array, row: number) => void
}

/** No line of a header is so long. */
const longestHeader = 4096

/**
 * Reads an ESRI ASCII grid piece by piece: header, then rows from the north. Push pieces of the file with `push`, then `end`. A row that is short, long
 * or holds what is no number ends the reading: what stood before was given.
 *
 * Cost    one row held; about 100 MB a second.
 * Source  Esri ASCII raster format, as ArcGIS documentation and GDAL's AAIGrid page have it. Values are separated by any white space;
 *         where a line holds one row, as programs write them, a short one is told by its line.
 */
export class AscReader {
  readonly #told: AscTold
  readonly #faults = new FaultList()
  readonly #header: AscHeaderReader
  readonly #fileName: string
  #head = ''
  #line = 1
  #scanner: NumberScanner | null = null
  #ended = false
  #size: AscHeader | null = null

  constructor(fileName: string, told: AscTold) {
    this.#fileName = fileName
    this.#told = told
    this.#header = new AscHeaderReader(fileName, this.#faults)
  }

  get faults(): readonly FileFault[] {
    return this.#faults.list()
  }

  /** True once nothing more is wanted. */
  get ended(): boolean {
    return this.#ended
  }

  push(piece: Uint8Array): void {
    if (this.#ended) return
    if (this.#scanner) this.#values(piece)
    else this.#begin(piece)
  }

  end(): void {
    if (!this.#ended && this.#line === 1 && this.#head.trim() === '' && !this.#scanner) {
      this.#faults.note(null, 'empty-file', `${this.#fileName} holds nothing.`)
      this.#ended = true
    }
    if (!this.#ended && !this.#scanner) this.#headerLines(true)
    if (!this.#ended && this.#scanner && this.#size) {
      this.#settle(this.#scanner.end())
      const { row } = this.#scanner
      if (!this.#ended && row < this.#size.rows) {
        const text = `${this.#fileName} ends after ${row} of ${this.#size.rows} rows; what is missing is left empty.`
        this.#faults.note(null, 'broken-file', text)
      }
    }
    this.#ended = true
  }

  #begin(piece: Uint8Array): void {
    let text = ''
    for (let i = 0; i < piece.length; i++) text += String.fromCharCode(piece[i]!)
    this.#head += text
    if (this.#line === 1) this.#head = this.#head.replace(/^\u00ef\u00bb\u00bf/, '')
    this.#headerLines(false)
  }

  /** Takes whole lines off the head until the first of heights. */
  #headerLines(last: boolean): void {
    while (!this.#ended && !this.#scanner) {
      const end = this.#head.search(/[\r\n]/)
      const waits = end < 0 || (end === this.#head.length - 1 && this.#head[end] === '\r')
      if (waits && !last && this.#head.length < longestHeader) return
      const text = end < 0 ? this.#head : this.#head.slice(0, end)
      const taken = this.#header.take(text.slice(0, longestHeader), this.#line)
      if (taken === null) this.#ended = true
      else if (taken === false || (end < 0 && this.#head.trim() === '')) this.#startValues()
      else {
        const crlf = end >= 0 && this.#head.startsWith('\r\n', end)
        this.#head = end < 0 ? '' : this.#head.slice(end + (crlf ? 2 : 1))
        this.#line += 1
      }
    }
  }

  #startValues(): void {
    const header = this.#header.whole(this.#line)
    if (!header || !this.#told.onHeader(header)) {
      this.#ended = true
      return
    }
    this.#size = header
    const none = header.noData ?? -9999
    this.#scanner = new NumberScanner(header.columns, header.rows, none, this.#line, this.#told.onRow)
    const rest = Uint8Array.from(this.#head, (letter) => letter.charCodeAt(0))
    this.#head = ''
    this.#values(rest)
  }

  #values(piece: Uint8Array): void {
    this.#settle(this.#scanner!.push(piece))
  }

  /** Tells what stopped the scanner, if anything did. */
  #settle(stop: ReturnType<NumberScanner['push']>): void {
    if (!stop) return
    this.#ended = true
    const { columns, rows } = this.#size!
    const { line, row, found, text } = stop
    if (stop.what === 'text') {
      const comma = text.includes(',')
      const sentence = comma
        ? `${quoted(text)} has a comma: write numbers with a decimal point and part them by spaces.`
        : `${quoted(text)} is not a height.`
      this.#faults.add(line, 'bad-value', `${sentence} Rows from here on were left out.`)
    } else if (stop.what === 'short' || stop.what === 'long') {
      const sentence = `Row ${row + 1} has ${found} heights and not ${columns}; rows from here on were left out.`
      this.#faults.add(line, 'broken-file', sentence)
    } else if (stop.what === 'more') {
      this.#faults.add(
        line,
        'broken-file',
        `More heights follow than ${columns} x ${rows}; they were left out.`,
      )
    }
  }
}
