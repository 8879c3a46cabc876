import { chanceAt, meanZigzagShare, zigzagShare } from '#core/cover'

/**
 * Chance that lanes cross a round scatter of some diameter that may lie anywhere: its edge within the swath of a lane.
 *
 * Units   metres; spacing between lanes, full width of the swath.
 * Method  min(1, (d + W) / s). Source: docs/methods/effort.md#a-scatter
 * @example scatterCrossed(5, 1.5, 20) // 0.325
 */
export function scatterCrossed(diameterM: number, swathM: number, spacingM: number): number {
  need(
    diameterM >= 0 && swathM >= 0 && spacingM > 0,
    'a scatter, swath and spacing',
    diameterM,
    swathM,
    spacingM,
  )
  return Math.min(1, (diameterM + swathM) / spacingM)
}

/** How a detector is swept while one walks. */
export interface Sweep {
  /** Length of ground that the coil senses along the walk, metres. */
  readonly coilM: number
  /** Sweeps a second, one crossing each. */
  readonly rateHz: number
  /** Walking speed, metres a second. */
  readonly speedMs: number
}

const ratioOf = ({ coilM, rateHz, speedMs }: Sweep): number => {
  need(coilM > 0 && rateHz > 0 && speedMs > 0, 'a sweep', coilM, rateHz, speedMs)
  return (coilM * rateHz) / speedMs
}

/**
 * Share of the ground sensed at a place across the arc: -1 the left edge, 0 the middle, 1 the right edge. The form is `zigzagShare`.
 * @example sweepShare({ coilM: 0.25, rateHz: 1, speedMs: 0.5 }, 0) // 0.5
 */
export function sweepShare(sweep: Sweep, u: number): number {
  need(Math.abs(u) <= 1, 'a place across the arc', u)
  return zigzagShare(u, ratioOf(sweep))
}

/** Share of the ground sensed over the whole arc. */
export function meanSweepShare(sweep: Sweep): number {
  return meanZigzagShare(ratioOf(sweep))
}

/**
 * The fastest walking speeds, metres a second, at which sweeps still overlap: in the middle of the arc, v = D f, and to its very edge,
 * v = D f / 2.
 * @example fastestSpeed(0.25, 1) // { middleMs: 0.25, edgeMs: 0.125 }
 */
export function fastestSpeed(coilM: number, rateHz: number): { middleMs: number; edgeMs: number } {
  need(coilM > 0 && rateHz > 0, 'a coil and rate', coilM, rateHz)
  return { middleMs: coilM * rateHz, edgeMs: (coilM * rateHz) / 2 }
}

/**
 * Chance that a spot at distance `x` from the recorded line lay within the swath, where the recorded line errs to the side with
 * standard deviation `errorM`: Phi((W/2 - x) / s) - Phi((-W/2 - x) / s).
 */
export function lateralChance(x: number, swathM: number, errorM: number): number {
  need(swathM > 0 && errorM >= 0, 'a swath and error', swathM, errorM)
  return chanceAt(x, swathM / 2, errorM, 2)
}

/**
 * Chance of detection by search at random of coverage C = swept area / area: 1 - exp(-C).
 * Source  Koopman 1956, "The theory of search II", Operations Research 4 (5); docs/methods/effort.md#search-at-random
 * @example randomSearchChance(1) // 0.632
 */
export function randomSearchChance(coverage: number): number {
  need(coverage >= 0, 'a coverage', coverage)
  return -Math.expm1(-coverage)
}

/** Chance of detection by parallel lanes that sense all of their swath: min(1, C), C = W / s for lanes at spacing s. */
export function parallelSearchChance(coverage: number): number {
  need(coverage >= 0, 'a coverage', coverage)
  return Math.min(1, coverage)
}

/**
 * Chance that one small object anywhere on the ground is sensed from lanes at a spacing: the share of the ground within swaths, times
 * the share of a swath that the sweeps sense.
 * Limits  for an object that the detector cannot miss when the coil passes over; where swaths overlap, no second chance is counted.
 */
export function objectSensed(swathM: number, spacingM: number, sweep: Sweep): number {
  need(swathM > 0 && spacingM > 0, 'a swath and spacing', swathM, spacingM)
  return parallelSearchChance(swathM / spacingM) * meanSweepShare(sweep)
}

function need(holds: boolean, what: string, ...given: number[]): void {
  if (!holds) throw new RangeError(`${what} must be lengths and rates that can be, got ${given.join(', ')}`)
}
