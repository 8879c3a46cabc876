export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
export { findRings, measuredRings } from './find-rings.ts'
export { featureNames } from './ring-features.ts'
export type { MeasuredRing } from './ring-search.ts'
