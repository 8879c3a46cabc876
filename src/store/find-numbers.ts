import { numberAt, textAt } from './cells.ts'
import type { Connection } from './connection.ts'

/** CODE-YEAR-NNN: the survey's code, four digits of the year, three digits or more. */
const findNumber = /^([A-Z][A-Z0-9]{1,7})-(\d{4})-(\d{3,9})$/

export function isFindNumber(text: string): boolean {
  return findNumber.test(text)
}

/**
 * Gives out find numbers inside one writing transaction, so that no two writers give out the same. A number once given
 * out is not given out again, even when its find is taken away: `find_numbers` remembers the last one of each year.
 */
export class FindNumbers {
  readonly #on: Connection
  readonly #code: string
  readonly #last = new Map<number, number>()
  readonly #kept = new Set<string>()

  constructor(on: Connection, code: string) {
    this.#on = on
    this.#code = code
  }

  /** True where the number has the form and no find bears it; then it is counted as given out. */
  keep(given: string): boolean {
    const parts = findNumber.exec(given)
    if (parts === null || this.#kept.has(given)) return false
    if (this.#on.one('SELECT 1 FROM finds WHERE number = ?', given) !== null) return false
    this.#kept.add(given)
    if (parts[1] === this.#code) this.#raise(Number(parts[2]), Number(parts[3]))
    return true
  }

  next(year: number): string {
    const number = this.#lastOf(year) + 1
    this.#raise(year, number)
    return `${this.#code}-${String(year).padStart(4, '0')}-${String(number).padStart(3, '0')}`
  }

  /** Remembers what was given out; call once, in the same transaction. */
  finish(): void {
    for (const [year, last] of this.#last) {
      this.#on.run(
        'INSERT INTO find_numbers VALUES (?, ?) ON CONFLICT (year) DO UPDATE SET last = max(last, excluded.last)',
        year,
        last,
      )
    }
  }

  #raise(year: number, number: number): void {
    this.#last.set(year, Math.max(this.#lastOf(year), number))
  }

  #lastOf(year: number): number {
    const known = this.#last.get(year)
    if (known !== undefined) return known
    const kept = this.#on.one('SELECT last FROM find_numbers WHERE year = ?', year)
    const prefix = `${this.#code}-${String(year).padStart(4, '0')}-`
    let last = kept === null ? 0 : (numberAt(kept, 'last') ?? 0)
    for (const row of this.#on.all('SELECT number FROM finds WHERE number GLOB ?', `${prefix}*`)) {
      last = Math.max(last, Number(findNumber.exec(textAt(row, 'number') ?? '')?.[3] ?? 0))
    }
    return last
  }
}
