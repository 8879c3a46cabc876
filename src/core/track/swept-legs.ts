import { SurveyError } from '#core/faults'
import type { PlanarTrack } from './planar-track.ts'

/** Steps longer than either are not swept ground: the receiver lost its place, or the detector was carried. */
export interface JumpLimits {
  readonly maxJumpM: number
  readonly maxJumpS: number
}

/** Steps between consecutive fixes that are not swept ground, by the first reason that held. */
export interface BrokenSteps {
  /** Between two segments. */
  readonly segment: number
  /** To or from a fix without a place in the grid. */
  readonly unplaced: number
  /** Longer than `maxJumpM`. */
  readonly distance: number
  /** Lasting longer than `maxJumpS`. */
  readonly time: number
}

/** Which steps of a track are swept ground, and what they add up to. */
export interface SweptLegs {
  /**
   * One entry a fix: `sweptStep` where the step to the next fix is swept ground, `loneFix` where the fix has a place but
   * no swept step on either side, else 0. The last fix of a track is never a `sweptStep`.
   */
  readonly kind: Uint8Array
  readonly legs: number
  readonly lone: number
  /** Length of the swept legs, metres. */
  readonly distanceM: number
  /** Time spent on them, seconds; null where no leg has a time at both ends. */
  readonly walkingS: number | null
  readonly broken: BrokenSteps
  /** Swept legs at whose end the clock stands earlier than at their start; they count no time. */
  readonly backwards: number
  /** Swept legs without a time at both ends. */
  readonly untimed: number
}

export const sweptStep = 1
export const loneFix = 2

/** Faults: SurveyError('setting-out-of-range') unless both limits are above zero. */
export function checkJumpLimits(limits: JumpLimits): void {
  if (!(limits.maxJumpM > 0))
    throw new SurveyError(
      'setting-out-of-range',
      `The longest step must be above 0 m, not ${limits.maxJumpM}.`,
    )
  if (!(limits.maxJumpS > 0))
    throw new SurveyError(
      'setting-out-of-range',
      `The longest pause must be above 0 s, not ${limits.maxJumpS}.`,
    )
}

/**
 * Finds the steps of a track that count as swept ground: those inside one segment, no longer than the limits in distance
 * and in time. A step at exactly a limit is swept. Times that run backwards are no pause; they are counted.
 *
 * Units   metres, seconds.
 * Cost    one pass over the fixes; one byte a fix.
 * Faults  SurveyError('setting-out-of-range') for a limit that is not above zero.
 */
export function sweptLegs(track: PlanarTrack, limits: JumpLimits): SweptLegs {
  checkJumpLimits(limits)
  const { xy, segmentStart, time } = track
  const fixes = xy.length >> 1
  const kind = new Uint8Array(fixes)
  const broken = { segment: 0, unplaced: 0, distance: 0, time: 0 }
  let legs = 0
  let lone = 0
  let distanceM = 0
  let seconds = 0
  let timed = 0
  let backwards = 0
  let next = 0
  for (let i = 0; i < fixes; i++) {
    while (next < segmentStart.length && segmentStart[next]! <= i) next++
    const x = xy[2 * i]!
    const y = xy[2 * i + 1]!
    if (i + 1 < fixes) {
      const eastwards = xy[2 * i + 2]! - x
      const northwards = xy[2 * i + 3]! - y
      const length = Math.sqrt(eastwards * eastwards + northwards * northwards)
      const lasts = time === null ? Number.NaN : time[i + 1]! - time[i]!
      if (segmentStart[next] === i + 1) broken.segment++
      else if (!Number.isFinite(length)) broken.unplaced++
      else if (length > limits.maxJumpM) broken.distance++
      else if (lasts > limits.maxJumpS) broken.time++
      else {
        kind[i] = sweptStep
        legs++
        distanceM += length
        if (lasts >= 0) seconds += lasts
        if (lasts < 0) backwards++
        if (!Number.isNaN(lasts)) timed++
      }
    }
    const standsAlone = kind[i] === 0 && (i === 0 || kind[i - 1] !== sweptStep)
    if (standsAlone && Number.isFinite(x) && Number.isFinite(y)) {
      kind[i] = loneFix
      lone++
    }
  }
  const untimed = legs - timed
  return { kind, legs, lone, distanceM, walkingS: timed > 0 ? seconds : null, broken, backwards, untimed }
}
