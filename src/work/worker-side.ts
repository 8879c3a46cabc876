import { parentPort, type Transferable, workerData } from 'node:worker_threads'
import type { Progress } from '#contract'
import { isSurveyError } from '#core/faults'
import type { WorkerMessage } from './in-worker.ts'

/** Least time between two progress messages, milliseconds: a bar needs no more, and messages cost time. */
const quiet = 80

function teller(): Progress {
  let last = -Infinity
  let lastLabel = ''
  return (done, label) => {
    const now = performance.now()
    if (now - last < quiet && label === lastLabel) return
    last = now
    lastLabel = label
    tell({ type: 'progress', done, label })
  }
}

function tell(message: WorkerMessage<unknown>, transfer: readonly Transferable[] = []): void {
  parentPort?.postMessage(message, transfer)
}

/**
 * The array buffers in a plain value that can move to another thread instead of being copied: those that one view fills
 * (small buffers of Node share a pool, which must stay).
 */
function buffersOf(value: unknown, found = new Set<ArrayBuffer>()): Set<ArrayBuffer> {
  if (ArrayBuffer.isView(value)) {
    const { buffer, byteLength } = value
    if (buffer instanceof ArrayBuffer && byteLength === buffer.byteLength) found.add(buffer)
  } else if (Array.isArray(value)) {
    for (const item of value) if (typeof item === 'object') buffersOf(item, found)
  } else if (value !== null && typeof value === 'object') {
    for (const item of Object.values(value)) if (typeof item === 'object') buffersOf(item, found)
  }
  return found
}

/** Called once by a worker script: runs `sum` on the input that the starter gave and sends back what comes of it. */
export async function serve<Input, Result>(
  sum: (input: Input, progress: Progress) => Result | Promise<Result>,
): Promise<void> {
  try {
    const result = await sum(workerData as Input, teller())
    tell({ type: 'result', result }, [...buffersOf(result)])
  } catch (error) {
    if (!isSurveyError(error)) throw error
    tell({ type: 'fault', code: error.code, text: error.message })
  }
}
