import { SurveyError } from '#core/faults'
import type { HeightsInput, JoinInput, MadeHeights } from './heights-worker.ts'
import { EndedEarly, inProcess, type ProcessOptions } from './in-process.ts'

async function run<Result>(
  input: HeightsInput | JoinInput,
  name: string,
  options: ProcessOptions,
): Promise<Result> {
  try {
    return await inProcess<Result>(new URL('./heights-worker.ts', import.meta.url), input, options)
  } catch (cause) {
    if (!(cause instanceof EndedEarly)) throw cause
    const sentence = `Reading ${name} ended without an answer: it is damaged, or larger than the memory of this machine; export it again, or in parts.`
    throw new SurveyError('broken-file', sentence, { cause })
  }
}

/** Makes a terrain model ready in a process of its own: its hash, and its heights in blocks at every scale. Faults: as `heightsOfTiff` and `heightsOfAsc`. */
export const heightsInProcess = (
  input: Omit<HeightsInput, 'task'>,
  options: ProcessOptions,
): Promise<MadeHeights> => run({ task: 'read', ...input }, input.name, options)

/** Joins heights that were made ready to those of a whole. */
export const joinedInProcess = (input: Omit<JoinInput, 'task'>, options: ProcessOptions): Promise<null> =>
  run({ task: 'join', ...input }, 'the parts of a terrain model', options)
