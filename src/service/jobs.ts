import type { Job, Progress } from '#contract'
import { isSurveyError } from '#core/faults'
import type { StartedJob } from './desk-service.ts'

type JobWork<Result> = (options: { progress: Progress; signal: AbortSignal }) => Promise<Result>

/** Ended jobs are kept this long for a page that looks late. */
const keptEnded = 20

/** The long work of one desk: what runs, how far it is, and the way to cancel it. Listeners are told of every step. */
export class Jobs {
  readonly #jobs = new Map<string, Job>()
  readonly #cancels = new Map<string, AbortController>()
  readonly #newId: () => string
  readonly #tell: (job: Job) => void

  constructor(newId: () => string, tell: (job: Job) => void) {
    this.#newId = newId
    this.#tell = tell
  }

  start<Result>(kind: Job['kind'], label: string, work: JobWork<Result>): StartedJob<Result> {
    const id = this.#newId()
    const controller = new AbortController()
    this.#cancels.set(id, controller)
    this.#put({ id, kind, label, done: 0, state: 'running', error: null })
    const progress: Progress = (done, now) => {
      const job = this.#jobs.get(id)
      if (job?.state === 'running')
        this.#put({ ...job, done: Math.max(job.done, Math.min(1, done)), label: now })
    }
    const done = work({ progress, signal: controller.signal }).then(
      (result) => {
        this.#end(id, { state: 'done', done: 1 })
        return result
      },
      (error: unknown) => {
        const code = isSurveyError(error) ? error.code : 'defect'
        const text = error instanceof Error ? error.message : String(error)
        this.#end(id, { state: code === 'cancelled' ? 'cancelled' : 'failed', error: { code, text } })
        throw error
      },
    )
    return { job: id, done }
  }

  cancel(id: string): boolean {
    const controller = this.#cancels.get(id)
    controller?.abort()
    return controller !== undefined
  }

  cancelAll(): void {
    for (const controller of this.#cancels.values()) controller.abort()
  }

  list(): Job[] {
    return [...this.#jobs.values()]
  }

  #put(job: Job): void {
    this.#jobs.set(job.id, job)
    this.#tell(job)
  }

  #end(id: string, end: Partial<Job>): void {
    this.#cancels.delete(id)
    const job = this.#jobs.get(id)
    if (job) this.#put({ ...job, ...end })
    const ended = [...this.#jobs.values()].filter(({ state }) => state !== 'running')
    for (const old of ended.slice(0, -keptEnded)) this.#jobs.delete(old.id)
  }
}
