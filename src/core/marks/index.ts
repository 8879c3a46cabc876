export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
export { halved, type LevelSource, type LevelWindow, sizeAt, windowOf } from './ground/levels.ts'
export { findLines } from './lines/find-lines.ts'
export {
  type LineCandidate,
  type LineLookAlike,
  type LineSettings,
  leastLineWidthPx,
  lineLookAlikes,
} from './lines/line-candidate.ts'
export { linesInParts } from './lines/line-parts.ts'
export { leastLengthPx } from './lines/line-plan.ts'
export { isSameEnclosure, isSameLine, type LinePlace, lineLikeness } from './lines/same-line.ts'
export { whatALineMayBe } from './lines/what-a-line-may-be.ts'
export type { MayBe, WhatItMayBe } from './may-be.ts'
export { findPits } from './pits/find-pits.ts'
export type { PitCandidate } from './pits/pit-jobs.ts'
export { pitsInParts } from './pits/pit-parts.ts'
export { whatAPitMayBe } from './pits/what-a-pit-may-be.ts'
export { findRings, measuredRings } from './rings/find-rings.ts'
export { featureNames } from './rings/ring-features.ts'
export { ringsInParts } from './rings/ring-parts.ts'
export { deepestLevel, leastDiameterPx } from './rings/ring-plan.ts'
export type { MeasuredRing } from './rings/ring-search.ts'
export { whatARingMayBe } from './rings/what-a-ring-may-be.ts'
export { isSameMark, type MarkPlace } from './same-mark.ts'
export type { SearchInParts } from './search-in-parts.ts'
