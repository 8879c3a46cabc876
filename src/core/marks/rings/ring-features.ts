import type { FittedRing } from './ring-fit.ts'
import { evidenceOf } from './ring-fit.ts'
import {
  groundBeside,
  sectorContrast,
  sectorCount,
  sectorDirections,
  sectorRidge,
  widths,
} from './ring-sectors.ts'

/** What the score is worked out from, in this order. */
export const featureNames = [
  'evidence',
  'height',
  'upper half',
  'lower half',
  'inside contrast',
  'outside contrast',
  'weaker side',
  'plateau',
  'radius',
  'in place',
  'strongest arcs',
  'unevenness',
  'beside',
  'halves',
  'neighbour arcs',
] as const

const sorted = new Float64Array(sectorCount)

function clipped(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value))
}

/**
 * Features of a fitted ring. `noise` is that of its radius and width; `height` is that of its proposal.
 */
export function ringFeatures(
  ring: FittedRing,
  noise: number,
  { height, radius }: { readonly height: number; readonly radius: number },
): Float64Array {
  const { arcs, profiles } = ring
  const width = widths[ring.width]!
  let known = 0
  for (let k = 0; k < sectorCount; k++) {
    const t = arcs[k]!
    if (Number.isNaN(t)) continue
    sorted[known++] = clipped(t, 8)
  }
  const all = sorted.subarray(0, known).sort()
  const half = known >> 1
  let lower = 0
  let upper = 0
  for (let i = 0; i < known; i++) {
    if (i < half) lower += all[i]!
    else upper += all[i]!
  }
  lower /= Math.max(1, half)
  upper /= Math.max(1, known - half)
  const middle = known > 0 ? all[half]! : 0
  const strongest = (all[known - 1] ?? 0) + (all[known - 2] ?? 0) + (all[known - 3] ?? 0) - 3 * upper
  // The better half of the arcs: what is inside, outside, where the ridge stands highest.
  let [inside, outside, plateau, inPlace, present, unevenness] = [0, 0, 0, 0, 0, 0]
  let neighbour = 0
  for (let k = 0; k < sectorCount; k++) {
    const t = arcs[k]!
    if (Number.isNaN(t)) continue
    const [pit, bank] = groundBeside(profiles, k, ring.radius, width)
    if (!Number.isNaN(pit) && !Number.isNaN(bank)) plateau += clipped((pit - bank) / noise, 6)
    const next = arcs[(k + 1) % sectorCount]!
    if (!Number.isNaN(next)) neighbour += Math.min(clipped(t, 5), clipped(next, 5))
    if (t < middle) continue
    present++
    unevenness += (clipped(t, 8) - upper) ** 2
    const [within, without] = sectorContrast(profiles, k, ring.radius, width)
    inside += clipped(within / noise, 8)
    outside += clipped(without / noise, 8)
    let best = 0
    let highest = -Infinity
    for (let off = -4; off <= 4; off++) {
      const value = sectorRidge(profiles, k, ring.radius + off, width)
      if (value > highest) [highest, best] = [value, off]
    }
    if (Math.abs(best) <= 1) inPlace++
  }
  const count = Math.max(1, present)
  inside /= count
  outside /= count
  return Float64Array.of(
    Math.sqrt(Math.max(0, ring.evidence)),
    height,
    upper,
    lower,
    inside,
    outside,
    Math.min(inside, outside),
    plateau / Math.max(1, known),
    Math.log(radius),
    inPlace / count,
    strongest,
    Math.sqrt(unevenness / count),
    besideEvidence(ring, noise),
    oppositeHalves(arcs),
    neighbour / Math.max(1, known),
  )
}

const moved = new Float64Array(sectorCount)

/** The best evidence for a ring of the same centre well inside or outside: furrows and textures have one there too. */
function besideEvidence({ profiles, radius, width }: FittedRing, noise: number): number {
  const wide = widths[width]!
  let best = 0
  for (const off of [-2.2, -1.4, 1.4, 2.2]) {
    const other = radius + off * Math.max(2.5, wide)
    if (other < 2) continue
    for (let k = 0; k < sectorCount; k++) {
      moved[k] = profiles.known[k] ? sectorRidge(profiles, k, other, wide) / noise : Number.NaN
    }
    best = Math.max(best, evidenceOf(moved))
  }
  return Math.sqrt(best)
}

/** The weakest of the halves of the circle, eight ways parted: a line or an edge leaves one half empty. */
function oppositeHalves(arcs: Float64Array): number {
  let least = Infinity
  for (let turn = 0; turn < sectorCount; turn += 3) {
    let sum = 0
    let count = 0
    for (let k = 0; k < sectorCount / 2; k++) {
      const t = arcs[(turn + k) % sectorCount]!
      if (Number.isNaN(t)) continue
      sum += clipped(t, 5)
      count++
    }
    if (count > 0) least = Math.min(least, sum / count)
  }
  return Number.isFinite(least) ? least : 0
}

/** Which arcs are seen: those whose ridge is above a third of the usual one of the better half, smoothed over neighbours. */
export function arcsSeen(arcs: Float64Array): Uint8Array {
  const present = [...arcs].filter((t) => !Number.isNaN(t)).sort((a, b) => a - b)
  const half = present.slice(present.length >> 1)
  const usual = half.length > 0 ? half[half.length >> 1]! : 0
  const seen = new Uint8Array(sectorCount)
  for (let k = 0; k < sectorCount; k++) {
    let sum = 0
    let weight = 0
    for (const [at, share] of [
      [k + sectorCount - 1, 1],
      [k, 2],
      [k + 1, 1],
    ] as const) {
      const t = arcs[at % sectorCount]!
      if (Number.isNaN(t)) continue
      sum += share * clipped(t, 2 * Math.max(usual, 1))
      weight += share
    }
    seen[k] = weight > 0 && !Number.isNaN(arcs[k]!) && sum / weight > 0.4 * usual ? 1 : 0
  }
  return seen
}

/** Shorter over longer diameter, by the second harmonic of where the ridge of each arc stands highest. */
export function ellipticityOf({ arcs, profiles, radius, width }: FittedRing): number {
  const wide = widths[width]!
  let [cos2, sin2, weight] = [0, 0, 0]
  for (let k = 0; k < sectorCount; k++) {
    const t = arcs[k]!
    if (!(t > 1)) continue
    const off = peakOff(profiles, k, radius, wide)
    const [c, s] = [sectorDirections.cos[k]!, sectorDirections.sin[k]!]
    const share = Math.min(t, 5)
    cos2 += share * off * (c * c - s * s)
    sin2 += share * off * 2 * c * s
    weight += share
  }
  if (weight === 0) return 1
  const swing = Math.min(0.5 * radius, (2 * Math.hypot(cos2, sin2)) / weight)
  return (radius - swing) / (radius + swing)
}

function peakOff(profiles: FittedRing['profiles'], k: number, radius: number, wide: number): number {
  let best = 0
  let highest = -Infinity
  for (let off = -3; off <= 3; off += 0.25) {
    const value = sectorRidge(profiles, k, radius + off, wide)
    if (value > highest) [highest, best] = [value, off]
  }
  return best
}
