import { Worker } from 'node:worker_threads'
import type { Progress } from '#contract'
import { type FaultCode, SurveyError } from '#core/faults'

export interface WorkOptions {
  readonly progress?: Progress
  /** Aborting ends the thread at once and rejects with SurveyError('cancelled'). */
  readonly signal?: AbortSignal
}

/** What a worker thread tells its starter. A SurveyError is sent by its fields, for a thread copies no subclass. */
export type WorkerMessage<Result> =
  | { readonly type: 'progress'; readonly done: number; readonly label: string }
  | { readonly type: 'result'; readonly result: Result }
  | { readonly type: 'fault'; readonly code: FaultCode; readonly text: string }

const cancelled = (): SurveyError =>
  new SurveyError('cancelled', 'The work was cancelled; nothing was changed.')

/**
 * Runs one long sum in a thread of its own and gives its result. The thread is new for each sum and ends with it, so a
 * cancel is a plain end of the thread and leaves nothing behind. Cost: about 50 ms to start.
 *
 * Faults: the SurveyError that the sum threw; SurveyError('cancelled'); an Error for a crash (out of memory, a defect).
 */
export function inWorker<Result>(script: URL, input: unknown, options: WorkOptions): Promise<Result> {
  const { progress, signal } = options
  return new Promise((resolve, reject) => {
    if (signal?.aborted) return reject(cancelled())
    const worker = new Worker(script, { workerData: input })
    const stop = (): void => {
      reject(cancelled())
      void worker.terminate()
    }
    const settle = (end: () => void): void => {
      signal?.removeEventListener('abort', stop)
      end()
      void worker.terminate()
    }
    signal?.addEventListener('abort', stop, { once: true })
    worker.on('message', (message: WorkerMessage<Result>) => {
      if (message.type === 'progress') progress?.(message.done, message.label)
      else if (message.type === 'result') settle(() => resolve(message.result))
      else settle(() => reject(new SurveyError(message.code, message.text)))
    })
    worker.on('error', (error) => settle(() => reject(error)))
    worker.on('exit', (code) =>
      settle(() => reject(new Error(`the worker thread ended early (exit ${code})`))),
    )
  })
}
