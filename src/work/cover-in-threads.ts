import { availableParallelism } from 'node:os'
import type { CoverInput, CoverOutcome } from './cover-input.ts'
import { inWorker, type WorkOptions } from './in-worker.ts'

/** More threads than this find no work of their own on a field. */
const mostThreads = 4

/**
 * Works out a cover in threads: the fixes are placed, the tiles shared out, the gaps drawn, the cells packed.
 *
 * Cost    see core/cover; one byte a cell and some 40 bytes a fix, shared by the threads.
 * Faults  those of core/cover; SurveyError('cancelled').
 */
export function coverInThreads(
  input: Omit<CoverInput, 'threads'>,
  options: WorkOptions = {},
): Promise<CoverOutcome> {
  const threads = Math.max(1, Math.min(mostThreads, availableParallelism()))
  return inWorker(new URL('./cover-worker.ts', import.meta.url), { ...input, threads }, options)
}
