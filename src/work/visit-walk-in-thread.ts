import { inWorker, type WorkOptions } from './in-worker.ts'
import type { VisitWalk, VisitWalkInput } from './visit-walk.ts'

/** Cleans the tracks of a visit in a thread of its own. Faults: those of core/track; SurveyError('cancelled'). */
export function visitWalkInThread(input: VisitWalkInput, options: WorkOptions = {}): Promise<VisitWalk> {
  return inWorker(new URL('./visit-walk-worker.ts', import.meta.url), input, options)
}
