export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
export { halved, type LevelSource, type LevelWindow, sizeAt, windowOf } from './ground/levels.ts'
export { findLines } from './lines/find-lines.ts'
export type { LineCandidate, LineLookAlike, LineSettings } from './lines/line-candidate.ts'
export { doLineJob, joinLineJobs, type LineJob, type LineJobResult, lineJobs } from './lines/line-jobs.ts'
export { leastLengthPx, leastWidthPx } from './lines/line-plan.ts'
export { type LineSearch, lineSearches } from './lines/line-search.ts'
export { findPits, type PitCandidate } from './pits/find-pits.ts'
export { findRings, measuredRings } from './rings/find-rings.ts'
export { featureNames } from './rings/ring-features.ts'
export { doRingJob, joinRingJobs, type RingJob, type RingJobResult, ringJobs } from './rings/ring-jobs.ts'
export { deepestLevel, leastDiameterPx } from './rings/ring-plan.ts'
export {
  type MeasuredRing,
  type PlannedSearch,
  plannedSearches,
  type RingSearch,
  ringSearches,
  searchOn,
} from './rings/ring-search.ts'
export { groundLength, readGround, writeGround } from './rings/shared-ground.ts'
export { type MayBe, type WhatItMayBe, whatItMayBe } from './rings/what-it-may-be.ts'
export { isSameMark, knownMark, type MarkPlace, sameDiameter, sameMiddle } from './same-mark.ts'
