import type { Progress } from '#contract'
import type { Raster, RingCandidate, RingSettings } from '#core/marks'
import { inWorker } from '#work'
import type { FindRingsInput } from './find-rings-worker.ts'

/** Looks for rings on a raster, away from the main thread. Faults: SurveyError 'cancelled' after `signal`. */
export type FindRings = (
  raster: Raster,
  settings: RingSettings,
  options: { readonly progress: Progress; readonly signal: AbortSignal },
) => Promise<readonly RingCandidate[]>

/** The detector, in a thread. */
export const findRings: FindRings = (raster, settings, options) => {
  const input: FindRingsInput = { raster, settings }
  return inWorker<RingCandidate[]>(new URL('./find-rings-worker.ts', import.meta.url), input, options)
}
