import type { Progress } from '#contract'
import { isSurveyError } from '#core/faults'
import type { WorkerMessage } from './in-worker.ts'

/** Least time between two progress messages, milliseconds. */
const quiet = 80

function tell(message: WorkerMessage<unknown>): Promise<void> {
  return new Promise((resolve) => process.send?.(message, () => resolve()))
}

function teller(): Progress {
  let last = -Infinity
  return (done, label) => {
    const now = performance.now()
    if (now - last < quiet) return
    last = now
    void tell({ type: 'progress', done, label })
  }
}

/** Called once by the script of a process: waits for the input, runs `work` on it and sends back what comes of it. */
export function serveProcess<Input, Result>(
  work: (input: Input, progress: Progress) => Promise<Result>,
): void {
  // Native work goes on in threads that a plain exit would wait for.
  process.once('disconnect', () => process.kill(process.pid, 'SIGKILL'))
  process.once('message', (input: Input) => {
    work(input, teller()).then(
      (result) => tell({ type: 'result', result }),
      (error: unknown) => {
        if (isSurveyError(error)) return tell({ type: 'fault', code: error.code, text: error.message })
        process.stderr.write(error instanceof Error ? `${error.stack}\n` : `${error}\n`, () =>
          process.exit(1),
        )
      },
    )
  })
}
