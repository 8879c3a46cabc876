import { availableParallelism } from 'node:os'
import { inWorker, type WorkOptions } from './in-worker.ts'
import type { MeasureInput } from './pyramid-measure-worker.ts'

const mostThreads = 4

/**
 * Works a view of a terrain out in threads, from a file of blocks into another, at every scale. The terrain is never held whole.
 * Cost: that of the view, shared by the threads. Faults: RangeError as the view's own; SurveyError('cancelled').
 */
export async function measureInThreads(
  input: Omit<MeasureInput, 'threads' | 'counts'>,
  options: WorkOptions = {},
): Promise<void> {
  const threads = Math.max(1, Math.min(mostThreads, availableParallelism()))
  const counts = new Int32Array(new SharedArrayBuffer(8))
  await inWorker(
    new URL('./pyramid-measure-worker.ts', import.meta.url),
    { ...input, threads, counts },
    options,
  )
}
