import { findRings, type Raster, type RingCandidate, type RingSettings } from '#core/marks'
import { serve } from '#work'

export interface FindRingsInput {
  readonly raster: Raster
  readonly settings: RingSettings
}

await serve<FindRingsInput, RingCandidate[]>(({ raster, settings }) => findRings(raster, settings))
