import { inWorker, type WorkOptions } from './in-worker.ts'
import type { ReadInput, ReadOutcome } from './read-worker.ts'

/**
 * Reads and understands one file in a thread: its bytes, their SHA-256 and what they hold. Nothing is written.
 * Cost: about 1.5 s for a GPX of a million points. Faults: those of reading a file in which nothing can be understood.
 */
export function readFileInThread(
  name: string,
  path: string,
  { epsg, ...options }: WorkOptions & Pick<ReadInput, 'epsg'> = {},
): Promise<ReadOutcome> {
  const input: ReadInput = { name, path, ...(epsg === undefined ? {} : { epsg }) }
  return inWorker(new URL('./read-worker.ts', import.meta.url), input, options)
}
