import type { Progress } from '#contract'
import type { Raster, RingCandidate, RingSettings } from '#core/marks'

/** Looks for rings on a raster, away from the main thread. Faults: SurveyError 'cancelled' after `signal`. */
export type FindRings = (
  raster: Raster,
  settings: RingSettings,
  options: { readonly progress: Progress; readonly signal: AbortSignal },
) => Promise<readonly RingCandidate[]>

/** The detector. */
export const findRings: FindRings = () => {
  throw new Error('not yet')
}
