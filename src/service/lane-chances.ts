import type { LaneChances } from '#contract'
import {
  fastestSpeed,
  meanSweepShare,
  objectSensed,
  parallelSearchChance,
  scatterCrossed,
  sweepInWords,
} from '#core/effort'

/** Metres, metres a second, sweeps a second. */
export interface ChanceWishes {
  readonly spacingM: number
  /** Full width of the arc swept. */
  readonly swathM: number
  readonly speedMs: number
  /** Diameter of a scatter that is looked for. */
  readonly scatterM?: number
  /** Length of ground the coil senses along the walk, with `rateHz`. */
  readonly coilM?: number
  readonly rateHz?: number
}

/** What lanes at a spacing may be expected to meet. Faults: RangeError for lengths and rates that cannot be. */
export function laneChances({
  spacingM,
  swathM,
  speedMs,
  scatterM,
  coilM,
  rateHz,
}: ChanceWishes): LaneChances {
  const sweep = coilM === undefined || rateHz === undefined ? null : { coilM, rateHz, speedMs }
  const fastest = sweep && fastestSpeed(sweep.coilM, sweep.rateHz)
  return {
    scatterCrossed: scatterM === undefined ? null : scatterCrossed(scatterM, swathM, spacingM),
    sweptShare: parallelSearchChance(swathM / spacingM),
    sensedOfSwath: sweep && meanSweepShare(sweep),
    objectSensed: sweep && objectSensed(swathM, spacingM, sweep),
    fastestMiddleMs: fastest?.middleMs ?? null,
    fastestEdgeMs: fastest?.edgeMs ?? null,
    sweep: sweep && sweepInWords(sweep),
  }
}
