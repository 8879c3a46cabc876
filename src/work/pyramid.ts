import { SurveyError } from '#core/faults'
import { EndedEarly, inProcess, type ProcessOptions } from './in-process.ts'
import type { LookedPicture, LookInput } from './pyramid-look.ts'
import type { PicturePlanes } from './pyramid-picture.ts'
import type { PyramidTask, WholeInput } from './pyramid-worker.ts'

async function run<Result>(input: PyramidTask, options: ProcessOptions): Promise<Result> {
  try {
    return await inProcess<Result>(new URL('./pyramid-worker.ts', import.meta.url), input, options)
  } catch (cause) {
    if (!(cause instanceof EndedEarly)) throw cause
    const sentence = `Reading ${input.name} ended without an answer: it is damaged, or larger than the memory of this machine; export it again, or in parts.`
    throw new SurveyError('broken-file', sentence, { cause })
  }
}

/** Looks at a picture in a process of its own; see `lookAtPicture`. */
export const pictureInProcess = (input: LookInput, options: ProcessOptions): Promise<LookedPicture> =>
  run({ task: 'look', ...input }, options)

/** Makes the whole detail of a picture in a process of its own. Faults: as `makePlanes`; 'not-found' where the file has been exchanged. */
export const wholeInProcess = (input: WholeInput, options: ProcessOptions): Promise<PicturePlanes> =>
  run({ task: 'whole', ...input }, options)
