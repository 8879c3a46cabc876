export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
export { findPits, type PitCandidate } from './find-pits.ts'
export { findRings, measuredRings } from './find-rings.ts'
export { halved, type LevelSource, type LevelWindow, sizeAt, windowOf } from './levels.ts'
export { featureNames } from './ring-features.ts'
export { doRingJob, joinRingJobs, type RingJob, type RingJobResult, ringJobs } from './ring-jobs.ts'
export { deepestLevel, leastDiameterPx } from './ring-plan.ts'
export {
  type MeasuredRing,
  type PlannedSearch,
  plannedSearches,
  type RingSearch,
  ringSearches,
  searchOn,
} from './ring-search.ts'
export { isSameMark, knownMark, type MarkPlace, sameDiameter, sameMiddle } from './same-mark.ts'
export { groundLength, readGround, writeGround } from './shared-ground.ts'
export { type MayBe, type WhatItMayBe, whatItMayBe } from './what-it-may-be.ts'
