import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { SurveyError } from '#core/faults'
import type { WorkerMessage, WorkOptions } from './in-worker.ts'

export interface ProcessOptions extends WorkOptions {
  /** Where the process may put what it needs for a while. */
  readonly temporaryFolder: string
}

/** Most of what a process complained of that is kept. */
const keptComplaints = 2000

/** A process that ended without an answer: it crashed, or was ended for want of memory. */
export class EndedEarly extends Error {
  override readonly name = 'EndedEarly'
}

/**
 * Runs work on pictures in a process of its own and gives its result. Not in a thread: what decodes the pictures is native
 * code, which a thread can neither stop in the middle nor outlive when a damaged file makes it crash. A cancel ends the
 * process and gives its memory back at once. Cost: about 150 ms to start.
 *
 * Faults: the SurveyError that the work threw; SurveyError('cancelled'); EndedEarly.
 */
export function inProcess<Result>(
  script: URL,
  input: unknown,
  { progress, signal, temporaryFolder }: ProcessOptions,
): Promise<Result> {
  return new Promise((resolve, reject) => {
    const cancelled = (): SurveyError =>
      new SurveyError('cancelled', 'The work was cancelled; nothing was changed.')
    if (signal?.aborted) return reject(cancelled())
    const child = fork(fileURLToPath(script), {
      execArgv: [],
      serialization: 'advanced',
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
      env: { ...process.env, TMPDIR: temporaryFolder, TMP: temporaryFolder, TEMP: temporaryFolder },
    })
    let complaints = ''
    child.stderr?.on('data', (chunk: Buffer) => {
      complaints = (complaints + chunk).slice(-keptComplaints)
    })
    let settled = false
    const settle = (end: () => void): void => {
      if (settled) return
      settled = true
      signal?.removeEventListener('abort', stop)
      const ended = child.exitCode !== null || child.signalCode !== null || child.pid === undefined
      // What the process held open on the disk may be removed once it has ended.
      if (ended) end()
      else child.once('exit', end).kill('SIGKILL')
    }
    const stop = (): void => settle(() => reject(cancelled()))
    signal?.addEventListener('abort', stop, { once: true })
    child.on('message', (message: WorkerMessage<Result>) => {
      if (message.type === 'progress') progress?.(message.done, message.label)
      else if (message.type === 'result') settle(() => resolve(message.result))
      else settle(() => reject(new SurveyError(message.code, message.text)))
    })
    child.on('error', (error) => settle(() => reject(error)))
    child.on('exit', (code, end) =>
      settle(() => reject(new EndedEarly(`the process ended early (${end ?? code}). ${complaints}`))),
    )
    child.send(input as object, (error) => {
      if (error) settle(() => reject(error))
    })
  })
}
