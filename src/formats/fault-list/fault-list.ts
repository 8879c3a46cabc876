import type { FaultCode, FileFault } from '#core/faults'

/** Faults listed one by one; what lies beyond is counted. */
const listed = 200

/** Collects what was not understood of one file. The list stays short however bad the file is. */
export class FaultList {
  readonly #faults: FileFault[] = []
  readonly #notes: FileFault[] = []
  readonly #beyond = new Map<FaultCode, number>()

  /** A fault at one place of the file: the first 200 are kept, the rest counted. */
  add(line: number | null, code: FaultCode, text: string): void {
    if (this.#faults.length < listed) this.#faults.push({ line, code, text })
    else this.#beyond.set(code, (this.#beyond.get(code) ?? 0) + 1)
  }

  /** Something said once of the whole file; never dropped. */
  note(line: number | null, code: FaultCode, text: string): void {
    this.#notes.push({ line, code, text })
  }

  /** Forgets all, for a file that is read anew. */
  clear(): void {
    this.#faults.length = 0
    this.#notes.length = 0
    this.#beyond.clear()
  }

  get count(): number {
    return this.#faults.length + this.#notes.length
  }

  /** Faults in the order of the file, then one line a code for those beyond the first 200, then what concerns the whole file. */
  list(): FileFault[] {
    const beyond = [...this.#beyond].map(([code, more]) => ({
      line: null,
      code,
      text: `${more} more of the same kind ${more === 1 ? 'is' : 'are'} not listed.`,
    }))
    return [...this.#faults, ...beyond, ...this.#notes]
  }
}

/** Text from a file, fit to stand in a sentence: one line, at most 40 characters, in quotation marks. */
export function quoted(text: string): string {
  const line = text.slice(0, 200).replace(/\s+/g, ' ').trim()
  return `“${line.length > 40 ? `${line.slice(0, 39)}…` : line}”`
}
