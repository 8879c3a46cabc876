import { inWorker, type WorkOptions } from './in-worker.ts'
import type { LanesWalked, LanesWalkedInput } from './lanes-walked.ts'

/** Sets tracks against lanes in a thread of its own. Faults: those of core/track; SurveyError('cancelled'). */
export function lanesWalkedInThread(
  input: LanesWalkedInput,
  options: WorkOptions = {},
): Promise<LanesWalked> {
  return inWorker(new URL('./lanes-walked-worker.ts', import.meta.url), input, options)
}
