import { decimal } from '#formats/decimal'
import type { FaultList } from '#formats/fault-list'
import { quoted } from '#formats/fault-list'

/** What stands before the heights of an ESRI ASCII grid. */
export interface AscHeader {
  readonly columns: number
  readonly rows: number
  /** Size of a cell, in the grid's own unit. */
  readonly cellX: number
  readonly cellY: number
  /** Outer lower left corner. */
  readonly west: number
  readonly south: number
  /** Null where none is stated; ESRI's reader then takes -9999. */
  readonly noData: number | null
}

const keys = /^(ncols|nrows|xllcorner|xllcenter|yllcorner|yllcenter|cellsize|dx|dy|nodata_value)$/

/** Metres or degrees: no cell is smaller, and nothing on Earth lies farther. */
const [smallest, largest] = [1e-12, 1e12]

/** Collects the header line by line, in any order and case. */
export class AscHeaderReader {
  readonly #found = new Map<string, number>()
  readonly #faults: FaultList
  readonly #fileName: string

  constructor(fileName: string, faults: FaultList) {
    this.#fileName = fileName
    this.#faults = faults
  }

  /** Takes a line of the header; false for one that is not part of it any more. Null where it cannot be understood, and a fault says why. */
  take(text: string, line: number): boolean | null {
    const [word = '', value = '', ...more] = text.trim().split(/\s+/)
    if (word === '') return true
    const key = word.toLowerCase()
    if (!keys.test(key)) {
      if (/^[a-z_]+$/i.test(word) && !/^nan$/i.test(word))
        return this.#bad(line, `${quoted(word)} is no line of the header of an ASCII grid.`)
      return false
    }
    const number = key === 'nodata_value' && /^[+-]?nan$/i.test(value) ? Number.NaN : decimal(value)
    const finite = Number.isFinite(number) || /nan/i.test(value)
    if (!finite || more.length > 0) {
      const point = value.replace(',', '.')
      if (value.includes(',') && Number.isFinite(decimal(point)))
        return this.#bad(line, `${quoted(value)} has a decimal comma; write it with a point: ${point}.`)
      return this.#bad(
        line,
        `${word} must be followed by one number, not ${quoted(text.trim().slice(word.length))}.`,
      )
    }
    this.#found.set(key, number)
    return true
  }

  #bad(line: number, text: string): null {
    this.#faults.add(line, 'bad-value', text)
    return null
  }

  /** The header; null where something is missing or makes no sense, and a fault says what. `line` is the first line of heights. */
  whole(line: number): AscHeader | null {
    const at = (...names: readonly string[]): number | undefined =>
      names.map((name) => this.#found.get(name)).find((value) => value !== undefined)
    const [columns, rows] = [at('ncols'), at('nrows')]
    const [cellX, cellY] = [at('dx', 'cellsize'), at('dy', 'cellsize')]
    const [x, y] = [at('xllcorner', 'xllcenter'), at('yllcorner', 'yllcenter')]
    const missing = Object.entries({
      ncols: columns,
      nrows: rows,
      cellsize: cellX ?? cellY,
      xllcorner: x,
      yllcorner: y,
    }).filter(([, value]) => value === undefined)
    if (missing.length > 0 || cellX === undefined || cellY === undefined) {
      const names = missing.map(([name]) => name).join(', ') || 'dx or dy'
      this.#faults.add(
        line,
        'broken-file',
        `${this.#fileName} lacks ${names} in its header; without it the grid has no place.`,
      )
      return null
    }
    const counts = [columns!, rows!]
    const sized = [cellX, cellY].every((cell) => cell > smallest && cell < largest)
    if (!counts.every((count) => Number.isInteger(count) && count > 0) || !sized) {
      const text = `${this.#fileName} states ${columns} columns, ${rows} rows and cells of ${cellX} by ${cellY}; all must be above 0, the first two whole numbers.`
      this.#faults.add(line, 'bad-value', text)
      return null
    }
    if (!(Math.abs(x!) < largest && Math.abs(y!) < largest)) {
      this.#faults.add(
        line,
        'bad-value',
        `${this.#fileName} states a corner at ${x}, ${y}, which is nowhere on Earth.`,
      )
      return null
    }
    return {
      columns: columns!,
      rows: rows!,
      cellX,
      cellY,
      west: this.#found.has('xllcorner') ? x! : x! - cellX / 2,
      south: this.#found.has('yllcorner') ? y! : y! - cellY / 2,
      noData: at('nodata_value') ?? null,
    }
  }
}
