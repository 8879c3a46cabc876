import { createHash } from 'node:crypto'

/** What the stages of a sum came to, each under the key of all that it was made from. Handed back in, unchanged stages are not done again. */
export type KeptStages = Readonly<Record<string, { readonly key: string; readonly value: unknown }>>

/**
 * A short text that differs where the values do: numbers, texts, lists, plain records and typed arrays, all by their contents.
 * Cost: a SHA-1 of the bytes, some 1 ms a megabyte.
 */
export function stageKey(...values: readonly unknown[]): string {
  const hash = createHash('sha1')
  const add = (value: unknown): void => {
    if (ArrayBuffer.isView(value)) {
      hash.update(`bytes ${value.byteLength} `)
      hash.update(new Uint8Array(value.buffer, value.byteOffset, value.byteLength))
    } else if (Array.isArray(value)) {
      hash.update(`list ${value.length} `)
      for (const item of value) add(item)
    } else if (typeof value === 'object' && value !== null) {
      for (const [name, item] of Object.entries(value)) {
        hash.update(`${JSON.stringify(name)}: `)
        add(item)
      }
    } else hash.update(`${typeof value} ${Object.is(value, -0) ? '-0' : String(value)};`)
  }
  add(values)
  return hash.digest('hex')
}

/** Does stages of a sum, or takes them from what was kept of the last one. */
export class Stages {
  readonly #before: KeptStages
  readonly #now: Record<string, { readonly key: string; readonly value: unknown }> = {}
  readonly #done: string[] = []

  constructor(before: KeptStages | null) {
    this.#before = before ?? {}
  }

  /** The value of a stage: that kept under the same key, else made anew. */
  async take<Value>(name: string, key: string, make: () => Value | Promise<Value>): Promise<Value> {
    const kept = this.#before[name]
    if (kept?.key === key) {
      this.#now[name] = kept
      return kept.value as Value
    }
    const value = await make()
    this.#now[name] = { key, value }
    this.#done.push(name)
    return value
  }

  /** The stages of this sum, to be handed to the next one. */
  get kept(): KeptStages {
    return this.#now
  }

  /** Names of the stages that had to be done. */
  get done(): readonly string[] {
    return this.#done
  }
}
