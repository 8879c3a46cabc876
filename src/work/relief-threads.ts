import { availableParallelism } from 'node:os'
import { Worker } from 'node:worker_threads'
import { SurveyError } from '#core/faults'
import { isGreyView, type ReliefView, reachOf, type Terrain } from '#core/relief'
import type { WorkOptions } from './in-worker.ts'
import type { ReliefAnswer, ReliefTask } from './relief-row-worker.ts'

const mostThreads = 8
/** How often progress is told and a cancel heeded, milliseconds. */
const lookEvery = 80
/** Rows of a band: enough that what a view sums up anew at the start of a band is little beside the band. */
const leastBand = 32

/** Room for as many floats, or bytes, that threads can share. */
export const sharedFloats = (length: number): Float32Array =>
  new Float32Array(new SharedArrayBuffer(4 * length))
const sharedBytes = (length: number): Uint8Array => new Uint8Array(new SharedArrayBuffer(length))

/** Threads that work views of terrains out, band by band of rows. They stay ready between views until closed. */
export class ReliefThreads {
  readonly #workers: readonly Worker[]

  /** Cost: about 60 ms to start. */
  constructor(threads = Math.max(1, Math.min(mostThreads, availableParallelism()))) {
    const script = new URL('./relief-row-worker.ts', import.meta.url)
    this.#workers = Array.from({ length: threads }, () => new Worker(script))
  }

  /**
   * A view of a whole terrain: bytes of a grey view, 32-bit measures of another; what one thread gives, but for a last bit.
   *
   * Cost    that of the view, shared by the threads; heights that are not on shared memory are copied once.
   * Faults  RangeError as the view's own; SurveyError 'cancelled', after which the threads are gone.
   */
  async view(
    terrain: Terrain,
    view: ReliefView,
    { progress, signal }: WorkOptions = {},
  ): Promise<Uint8Array | Float32Array> {
    const length = terrain.values.length
    const out = isGreyView(view) ? sharedBytes(length) : sharedFloats(length)
    const band = Math.max(leastBand, 2 * reachOf(terrain, view).rows)
    const counts = new Int32Array(new SharedArrayBuffer(8))
    const task: ReliefTask = { terrain: onSharedMemory(terrain), view, out, band, counts }
    const bands = Math.ceil(terrain.rows / band)
    const looking = setInterval(() => {
      progress?.(Math.min(1, Atomics.load(counts, 1) / bands), `working out the ${view.view}`)
    }, lookEvery)
    try {
      await this.#run(task, signal)
    } finally {
      clearInterval(looking)
    }
    return out
  }

  async #run(task: ReliefTask, signal: AbortSignal | undefined): Promise<void> {
    const answers = this.#workers.map((worker) => answerOf(worker, task))
    const stopped = new Promise<never>((_, reject) => {
      const stop = (): void => {
        void this.close()
        reject(new SurveyError('cancelled', 'The work was cancelled; nothing was changed.'))
      }
      if (signal?.aborted) stop()
      signal?.addEventListener('abort', stop, { once: true })
    })
    const all = await Promise.race([Promise.all(answers), stopped])
    const fault = all.find((answer) => answer.fault !== null)?.fault
    if (fault != null) throw new RangeError(fault)
  }

  async close(): Promise<void> {
    await Promise.all(this.#workers.map((worker) => worker.terminate()))
  }
}

function onSharedMemory(terrain: Terrain): Terrain {
  if (terrain.values.buffer instanceof SharedArrayBuffer) return terrain
  const values = sharedFloats(terrain.values.length)
  values.set(terrain.values)
  return { ...terrain, values }
}

function answerOf(worker: Worker, task: ReliefTask): Promise<ReliefAnswer> {
  return new Promise((resolve, reject) => {
    const settle = (end: () => void): void => {
      worker.off('message', heard)
      worker.off('error', failed)
      worker.off('exit', ended)
      end()
    }
    const heard = (answer: ReliefAnswer): void => settle(() => resolve(answer))
    const failed = (error: Error): void => settle(() => reject(error))
    const ended = (): void => settle(() => reject(new Error('a thread of the relief ended early')))
    worker.once('message', heard)
    worker.once('error', failed)
    worker.once('exit', ended)
    worker.postMessage(task)
  })
}
