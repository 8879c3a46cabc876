import { SurveyError } from '#core/faults'

/**
 * Lets so many pieces of work run at a time. The one asked for last begins first: it is what the map shows now. One whose asker has gone
 * before it began is dropped.
 */
export class TileQueue {
  readonly #most: number
  readonly #waiting: (() => void)[] = []
  #running = 0

  constructor(most: number) {
    this.#most = most
  }

  /** Faults: SurveyError 'cancelled' for work that was dropped; those of the work. */
  async run<Result>(work: () => Promise<Result>, signal?: AbortSignal): Promise<Result> {
    if (this.#running >= this.#most) {
      await new Promise<void>((begin) => this.#waiting.push(begin))
    } else this.#running += 1
    try {
      if (signal?.aborted) throw new SurveyError('cancelled', 'Nobody waits for this any more.')
      return await work()
    } finally {
      const next = this.#waiting.pop()
      // The place is handed on, so that nobody slips in between.
      if (next) next()
      else this.#running -= 1
    }
  }
}
