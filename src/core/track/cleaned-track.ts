import type { Stop } from './find-stops.ts'
import type { PieceCause, Rejection } from './order-fixes.ts'
import type { PlanarTrack } from './planar-track.ts'

/** Ground or time between two pieces of a cleaned track that nothing is known of. */
export interface TrackBreak {
  /** First cleaned fix after it. */
  readonly at: number
  readonly cause: PieceCause
  /** From the fix before; `seconds` null without times. */
  readonly metres: number
  readonly seconds: number | null
}

/** A part that looks driven: cut it with `cutParts`. Recorded fixes, both included. */
export interface Drive {
  readonly fromFix: number
  readonly toFix: number
  readonly start: number
  readonly end: number
  readonly metres: number
}

/**
 * What a recorded track says once it has been cleaned; the recorded fixes themselves stay as they are. `segmentStart` holds the
 * first fix of each unbroken piece. Smoothed values are null without times.
 */
export interface CleanedTrack extends PlanarTrack {
  /** Number of each cleaned fix in the recorded track. */
  readonly fix: Uint32Array
  /** Standard deviation of each place along one axis, metres: what smoothing left of the quick part, and all of the slow part. */
  readonly errorM: Float64Array
  /** Metres a second. */
  readonly speedMS: Float64Array | null
  /** Radians from grid north, clockwise; NaN at rest. */
  readonly headingRad: Float64Array | null
  /** `walking`, `standing` or `driven`. */
  readonly state: Uint8Array
  /** For each recorded fix 0, or why it was left out (see `rejections`). */
  readonly rejectedAs: Uint8Array
  readonly rejected: Readonly<Record<Rejection, number>>
  readonly breaks: readonly TrackBreak[]
  readonly stops: readonly Stop[]
  readonly drives: readonly Drive[]
  /** Walked, metres: steps neither driven nor stood. */
  readonly distanceM: number
  /** Seconds spent on them, and standing; null without times. */
  readonly walkingS: number | null
  readonly stoppedS: number | null
  /** What was left out or assumed, one sentence each. */
  readonly notes: readonly string[]
}
