import type { Raster } from '../candidate.ts'
import {
  type SectorProfiles,
  sectorCount,
  sectorDirections,
  sectorProfiles,
  sectorRidge,
  sectorRidges,
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
/** The four side by side: an arc falls at the same place in each. */
const joinedTables = Float64Array.from({ length: 4 * tablePoints }, (_, i) => evidenceTables[i & 3]![i >> 2]!)

const perPoint = (tablePoints - 1) / (tableTo - tableFrom)

/**
 * Logarithm of the likelihood of the arcs' ridges if three arcs in four show a ditch of some strength, over that of bare ground; the best
 * strength of four. A missing quarter costs little, and no arc can give more than its share.
 */
export function evidenceOf(arcs: Float64Array): number {
  let sum0 = 0
  let sum1 = 0
  let sum2 = 0
  let sum3 = 0
  for (let k = 0; k < sectorCount; k++) {
    const t = arcs[k]!
    if (Number.isNaN(t)) continue
    let at = (t - tableFrom) * perPoint
    if (at < 0) at = 0
    else if (at > tablePoints - 1.001) at = tablePoints - 1.001
    const i = at | 0
    const share = at - i
    const rest = 1 - share
    const j = 4 * i
    sum0 += rest * joinedTables[j]! + share * joinedTables[j + 4]!
    sum1 += rest * joinedTables[j + 1]! + share * joinedTables[j + 5]!
    sum2 += rest * joinedTables[j + 2]! + share * joinedTables[j + 6]!
    sum3 += rest * joinedTables[j + 3]! + share * joinedTables[j + 7]!
  }
  return Math.max(sum0, sum1, sum2, sum3)
}

/** Samples of the first round lie this many pixels apart along the circle: it decides whether there is anything to look at closer. */
const firstApart = 1.8

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
    const profiles = sectorProfiles(image, x, y, radius, round === 0 ? firstApart : 1)
    const measure = (trial: Trial): void => {
      const times = 1 / noise(trial.radius, trial.width)
      sectorRidges(profiles, trial, widths[trial.width]!, times, arcs)
      trial.evidence = evidenceOf(arcs)
    }
    if (round === 2) {
      const last: Trial = { dx: 0, dy: 0, radius, width, evidence: 0 }
      measure(last)
      return { x, y, radius, width, evidence: last.evidence, arcs, profiles }
    }
    let best = round === 0 ? firstLook(radius, measure) : { dx: 0, dy: 0, radius, width, evidence: 0 }
    if (round > 0) measure(best)
    if (round === 0 && best.evidence < least.look) return null
    best = climb(best, measure, round === 0 ? 2 : 0.5)
    if (round === 0 && best.evidence < least.climbed) return null
    if (round === 1) best = settled(profiles, best, noise)
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

/** Beyond this, pixels, centre and radius may not move from where the profiles were taken. */
const mostShift = 4

function climb(
  from: Trial,
  measure: (trial: Trial) => void,
  firstStep: number,
  lastStep = 0.12,
  otherWidths = true,
): Trial {
  let best = { ...from }
  let better = { ...from }
  const trial = { ...from }
  const keep = (): void => {
    measure(trial)
    if (trial.evidence > better.evidence) copy(trial, better)
  }
  for (let step = firstStep; step >= lastStep; step /= 2) {
    // The way back from the last move is known to be worse.
    let back = -1
    for (let turn = 0; turn < 4; turn++) {
      copy(best, better)
      let taken = -1
      for (let m = 0; m < moves.length; m++) {
        if (m === back) continue
        const move = moves[m]!
        trial.dx = best.dx + move[0] * step
        trial.dy = best.dy + move[1] * step
        trial.radius = best.radius + move[2] * step
        trial.width = best.width
        const off = trial.dx * trial.dx + trial.dy * trial.dy
        if (
          trial.radius < 1.5 ||
          off > mostShift * mostShift ||
          Math.abs(trial.radius - from.radius) > mostShift
        )
          continue
        const before = better.evidence
        keep()
        if (better.evidence > before) taken = m
      }
      for (let off = -1; off <= 1 && otherWidths; off += 2) {
        const other = best.width + off
        if (other < 0 || other >= widths.length || widths[other]! > best.radius) continue
        copy(best, trial)
        trial.width = other
        const before = better.evidence
        keep()
        if (better.evidence > before) taken = moves.length
      }
      if (taken < 0) break
      back = taken < moves.length ? taken ^ 1 : -1
      ;[best, better] = [better, best]
    }
  }
  return best
}

function copy(from: Trial, to: Trial): void {
  to.dx = from.dx
  to.dy = from.dy
  to.radius = from.radius
  to.width = from.width
  to.evidence = from.evidence
}
