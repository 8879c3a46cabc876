export type { PlanarTrack } from './planar-track.ts'
export {
  type BrokenSteps,
  checkJumpLimits,
  type JumpLimits,
  loneFix,
  type SweptLegs,
  sweptLegs,
  sweptStep,
} from './swept-legs.ts'
export { type WalkAccount, walkAccount } from './walk-account.ts'
