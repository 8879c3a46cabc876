import { normalDensity, normalShare } from './normal-distribution.ts'
import { zigzagShare } from './zigzag.ts'

/** Beyond the edge of the swath by this many standard deviations of the error the chance is taken as 0 (it is 3e-5). */
export const reachInErrors = 4

/** Steps of the ratio D / a from 0 to 2. */
const ratioSteps = 64
const mostSteps = 4096

/** The chance that a spot was sensed in one pass, by its distance from the recorded line and the ratio of the zigzag. */
export interface ChanceTable {
  /** Distance beyond which the chance is 0; in the unit of the swath and the error. */
  readonly reach: number
  /** Steps of distance up to the reach; a row has two more values, so that a step may be read with the next one. */
  readonly steps: number
  /** Rows by ratio, from 0 to 2 where the zigzag counts, else one row of a full arc. */
  readonly rows: number
  readonly chance: Float64Array
}

/**
 * The chance at lateral distance `x` from the recorded line: over all places y where the spot may truly have lain,
 * normally spread about x with deviation `error`, the share that the zigzag senses there.
 *
 *   P(x) = integral over |y| < W/2 of q(2 y / W) phi((y - x) / error) / error dy
 *
 * For a full arc (q = 1) it is Phi((W/2 - x) / error) - Phi((-W/2 - x) / error). q is made of straight pieces, so the
 * integral is a sum of closed ones. Without an error it is q itself.
 */
export function chanceAt(x: number, halfWidth: number, error: number, ratio: number): number {
  if (error === 0) return Math.abs(x) <= halfWidth ? zigzagShare(x / halfWidth, ratio) : 0
  const bend = Math.min(1, Math.abs(1 - ratio))
  const ends = ratio >= 2 ? [-1, 1] : [-1, -bend, bend, 1]
  let chance = 0
  for (let piece = 0; piece + 1 < ends.length; piece++) {
    const [u0, u1] = [ends[piece]!, ends[piece + 1]!]
    if (u1 - u0 < 1e-12) continue
    const [q0, q1] = [zigzagShare(u0, ratio), zigzagShare(u1, ratio)]
    const [y0, y1] = [u0 * halfWidth, u1 * halfWidth]
    const slope = (q1 - q0) / (y1 - y0)
    const [z0, z1] = [(y0 - x) / error, (y1 - x) / error]
    const atX = q0 + slope * (x - y0)
    chance +=
      atX * (normalShare(z1) - normalShare(z0)) - slope * error * (normalDensity(z1) - normalDensity(z0))
  }
  return chance
}

/**
 * Tables `chanceAt` for a swath and an error. Steps of distance are a fortieth of the error or of the half width, whichever
 * is less, so that reading between two steps is right to 1e-4.
 */
export function chanceTable(halfWidth: number, error: number, zigzag: boolean): ChanceTable {
  const reach = halfWidth + reachInErrors * error
  const finest = (error > 0 ? Math.min(error, halfWidth) : halfWidth) / 40
  const steps = Math.min(mostSteps, Math.ceil(reach / finest))
  const rows = zigzag ? ratioSteps + 1 : 1
  const chance = new Float64Array(rows * (steps + 2))
  for (let row = 0; row < rows; row++) {
    const ratio = zigzag ? (2 * row) / ratioSteps : 2
    for (let k = 0; k <= steps; k++)
      chance[row * (steps + 2) + k] = chanceAt(reach * (k / steps), halfWidth, error, ratio)
  }
  return { reach, steps, rows, chance }
}
