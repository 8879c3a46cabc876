export { type AveragedPlace, averagePlace, errorOfMean } from './average-place.ts'
export { type CleanSettings, checkCleanSettings, defaultCleanSettings } from './clean-settings.ts'
export { cleanTrack } from './clean-track.ts'
export type { CleanedTrack, Drive, TrackBreak } from './cleaned-track.ts'
export {
  compareLanes,
  type LaneLine,
  type LanesCompared,
  type LaneWalked,
  type Straying,
} from './compare-lanes.ts'
export { cutParts } from './cut-parts.ts'
export { type FastStretch, fastStretches, safeSpeed } from './fast-stretches.ts'
export { driven, type Stop, standing, walking } from './find-stops.ts'
export {
  defaultMatching,
  type Match,
  type MatchSettings,
  type Moment,
  matchMoments,
  type ZoneFit,
  zoneOfMoments,
} from './match-moments.ts'
export { type PieceCause, type Rejection, rejections } from './order-fixes.ts'
export { partOfLane } from './part-of-lane.ts'
export type { PlanarTrack } from './planar-track.ts'
export { questionSpots, type Spot, type SpotQuestion, visitsOfSpot } from './question-spots.ts'
export { questionTrack, type TrackQuestion } from './question-track.ts'
export {
  defaultSameWalk,
  type SameWalk,
  type SameWalkOptions,
  sameWalk,
  withClockMoved,
} from './same-walk.ts'
export { type SmoothedPiece, smoothWalk, type WalkModel, type WalkPiece } from './smooth-walk.ts'
export {
  type BrokenSteps,
  checkJumpLimits,
  type JumpLimits,
  loneFix,
  type SweptLegs,
  sweptLegs,
  sweptStep,
} from './swept-legs.ts'
export { errorOfFixes, radiusOfError, type TrackFixes } from './track-fixes.ts'
export { type WalkAccount, walkAccount } from './walk-account.ts'
