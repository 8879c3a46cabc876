import type { PloughBearing, TextureChip } from '#core/lanes'
import { inWorker, type WorkOptions } from './in-worker.ts'

/** `ploughBearing` in a thread of its own. Faults: its; SurveyError('cancelled'). */
export function ploughBearingInThread(chip: TextureChip, options: WorkOptions = {}): Promise<PloughBearing> {
  return inWorker<PloughBearing>(new URL('./texture-worker.ts', import.meta.url), chip, options)
}
