export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
