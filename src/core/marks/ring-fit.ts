import type { Raster } from './candidate.ts'
import {
  type SectorProfiles,
  sectorCount,
  sectorDirections,
  sectorProfiles,
  sectorRidge,
  widths,
} from './ring-sectors.ts'

/** A ring as fitted on the image looked at, pixels of that image. */
export interface FittedRing {
  readonly x: number
  readonly y: number
  readonly radius: number
  /** Place in `widths`. */
  readonly width: number
  /** Evidence for a ring against bare ground, natural logarithm. */
  readonly evidence: number
  /** Ridge of each arc in standard deviations of bare ground; NaN where the arc is not known. */
  readonly arcs: Float64Array
  /** About (x, y) as fitted. */
  readonly profiles: SectorProfiles
}

/** Standard deviation of an arc's ridge on bare ground, for a radius and a place in `widths`, in the raster's unit. */
export type ArcNoise = (radius: number, width: number) => number

const seenShare = 0.75
const strengths = [1.2, 2, 3, 4.5] as const

/** Parts of the evidence as tables over the ridge of an arc: a ring is fitted some hundred thousand times. */
const tableFrom = -6
const tableTo = 10
const tablePoints = 161
const evidenceTables = strengths.map((strength) =>
  Float64Array.from({ length: tablePoints }, (_, i) => {
    // Beyond the strength and a half more, more is no more evidence: a line would be.
    const t = Math.min(tableFrom + (i * (tableTo - tableFrom)) / (tablePoints - 1), strength + 1.5)
    return Math.log(1 - seenShare + seenShare * Math.exp(strength * t - (strength * strength) / 2))
  }),
)

function tableAt(table: Float64Array, t: number): number {
  const at = Math.min(
    tablePoints - 1.001,
    Math.max(0, ((t - tableFrom) * (tablePoints - 1)) / (tableTo - tableFrom)),
  )
  const i = Math.floor(at)
  return table[i]! + (at - i) * (table[i + 1]! - table[i]!)
}

/**
 * Logarithm of the likelihood of the arcs' ridges if three arcs in four show a ditch of some strength, over that of bare ground; the best
 * strength of four. A missing quarter costs little, and no arc can give more than its share.
 */
export function evidenceOf(arcs: Float64Array): number {
  let best = -Infinity
  for (const table of evidenceTables) {
    let sum = 0
    for (let k = 0; k < sectorCount; k++) {
      const t = arcs[k]!
      if (!Number.isNaN(t)) sum += tableAt(table, t)
    }
    if (sum > best) best = sum
  }
  return best
}

interface Trial {
  dx: number
  dy: number
  radius: number
  width: number
  evidence: number
}

/** Shifts tried around the best so far, in steps that halve: the centre four ways, and the radius. */
const moves = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
] as const

/**
 * Fits centre, radius and ditch width near a first guess, by the most evidence.
 *
 * Method  profiles are taken about the guess; a shift of the centre by (dx, dy) is read from them as a change of each arc's radius
 *         (true to first order). Coordinate steps of 2, 1, 0.5, 0.25 and 0.125 pixels; then profiles about the new centre, and again.
 * Gives   null where the evidence is below `least` at the first look, or after the first climb.
 */
export function fitRing(
  image: Raster,
  guess: { readonly x: number; readonly y: number; readonly radius: number },
  noise: ArcNoise,
  least: { readonly look: number; readonly climbed: number },
): FittedRing | null {
  let { x, y, radius } = guess
  const arcs = new Float64Array(sectorCount)
  let width = 0
  for (let round = 0; ; round++) {
    const profiles = sectorProfiles(image, x, y, radius)
    const measure = (trial: Trial): void => {
      const unit = 1 / noise(trial.radius, trial.width)
      for (let k = 0; k < sectorCount; k++) {
        const shift = trial.dx * sectorDirections.cos[k]! + trial.dy * sectorDirections.sin[k]!
        arcs[k] = profiles.known[k]
          ? unit * sectorRidge(profiles, k, trial.radius + shift, widths[trial.width]!)
          : Number.NaN
      }
      trial.evidence = evidenceOf(arcs)
    }
    if (round === 3) {
      const last: Trial = { dx: 0, dy: 0, radius, width, evidence: 0 }
      measure(last)
      return { x, y, radius, width, evidence: last.evidence, arcs, profiles }
    }
    let best = round === 0 ? firstLook(radius, measure) : { dx: 0, dy: 0, radius, width, evidence: 0 }
    if (round > 0) measure(best)
    if (round === 0 && best.evidence < least.look) return null
    best = climb(best, measure, round === 0 ? 2 : 0.5)
    if (round === 0 && best.evidence < least.climbed) return null
    if (round === 2) best = settled(profiles, best, noise)
    measure(best)
    x += best.dx
    y += best.dy
    radius = best.radius
    width = best.width
  }
}

/**
 * The last fraction of a pixel. Evidence levels off where a ditch is plain, so here every arc with a ridge counts alike, by its ridge over
 * what it was at the start, and the sum of these is climbed.
 */
function settled(profiles: SectorProfiles, from: Trial, noise: ArcNoise): Trial {
  const wide = widths[from.width]!
  const floor = noise(from.radius, from.width)
  const at = (trial: Trial, k: number): number =>
    sectorRidge(
      profiles,
      k,
      trial.radius + trial.dx * sectorDirections.cos[k]! + trial.dy * sectorDirections.sin[k]!,
      wide,
    )
  const weight = Float64Array.from({ length: sectorCount }, (_, k) => {
    const ridge = profiles.known[k] ? at(from, k) : 0
    return ridge > floor ? 1 / Math.max(ridge, 2 * floor) : 0
  })
  const measure = (trial: Trial): void => {
    let sum = 0
    for (let k = 0; k < sectorCount; k++) if (weight[k]! > 0) sum += weight[k]! * at(trial, k)
    trial.evidence = sum
  }
  const start = { ...from }
  measure(start)
  return climb(start, measure, 0.5, 0.03, false)
}

function firstLook(radius: number, measure: (trial: Trial) => void): Trial {
  let best: Trial = { dx: 0, dy: 0, radius, width: 0, evidence: -Infinity }
  for (let width = 0; width < widths.length; width++) {
    if (widths[width]! > radius) continue
    for (let off = -2; off <= 2; off++) {
      const trial = { dx: 0, dy: 0, radius: Math.max(1.5, radius + off * 0.8), width, evidence: 0 }
      measure(trial)
      if (trial.evidence > best.evidence) best = trial
    }
  }
  return best
}

function climb(
  from: Trial,
  measure: (trial: Trial) => void,
  firstStep: number,
  lastStep = 0.12,
  otherWidths = true,
): Trial {
  let best = from
  for (let step = firstStep; step >= lastStep; step /= 2) {
    for (let turn = 0; turn < 4; turn++) {
      let better = best
      for (const [mx, my, mr] of moves) {
        const trial: Trial = {
          ...best,
          dx: best.dx + mx * step,
          dy: best.dy + my * step,
          radius: best.radius + mr * step,
        }
        if (
          trial.radius < 1.5 ||
          Math.hypot(trial.dx, trial.dy) > 4 ||
          Math.abs(trial.radius - from.radius) > 4
        )
          continue
        measure(trial)
        if (trial.evidence > better.evidence) better = trial
      }
      for (const other of otherWidths ? [best.width - 1, best.width + 1] : []) {
        if (other < 0 || other >= widths.length || widths[other]! > best.radius) continue
        const trial = { ...best, width: other }
        measure(trial)
        if (trial.evidence > better.evidence) better = trial
      }
      if (better === best) break
      best = better
    }
  }
  return best
}
