import type { Chain } from './line-chains.ts'
import { stepLength } from './line-evidence.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'

/** Over how many pixels of its length a line is smoothed (standard deviation), and how far. */
const smoothing = 5
const smoothReach = 14
/** Variance of the places that a response is summed over along a line, square pixels: it draws a bend inwards by half of this times its curvature. */
const summedOver = 36
/** A turn of more than this within `cornerReach` pixels to either side is a corner. */
const cornerTurn = (50 * Math.PI) / 180
const cornerReach = 6

/** Places of a chain made smooth: at each point the parabola in the length along the chain that lies best among the points about it. Pixels of the level. */
export function smoothLine(points: LinePoints, chain: Chain): Float64Array {
  const along = lengthsAlong(points, chain)
  const out = new Float64Array(2 * chain.length)
  const sums = new Float64Array(11)
  let first = 0
  for (let n = 0; n < chain.length; n++) {
    while (along[n]! - along[first]! > smoothReach) first++
    sums.fill(0)
    for (let k = first; k < chain.length && along[k]! - along[n]! <= smoothReach; k++) {
      const i = chain[k]! * pointStride
      addWeighed(sums, along[k]! - along[n]!, points[i + at.x]!, points[i + at.y]!)
    }
    // Beside an end there is too little for a parabola.
    const bent = Math.min(along[n]!, along.at(-1)! - along[n]!) >= smoothing
    out[2 * n] = fittedAtMiddle(sums, 5, bent)
    out[2 * n + 1] = fittedAtMiddle(sums, 8, bent)
  }
  return out
}

/** Adds a place `s` along to the sums of weight, x and y times powers of `s`. */
function addWeighed(sums: Float64Array, s: number, x: number, y: number): void {
  const weight = Math.exp((-s * s) / (2 * smoothing * smoothing))
  const [first, second] = [weight * s, weight * s * s]
  sums[0]! += weight
  sums[1]! += first
  sums[2]! += second
  sums[3]! += second * s
  sums[4]! += second * s * s
  sums[5]! += weight * x
  sums[6]! += first * x
  sums[7]! += second * x
  sums[8]! += weight * y
  sums[9]! += first * y
  sums[10]! += second * y
}

/** Value at 0 of the parabola with least squares, less what the sum along the line has drawn it inwards; of the straight line, or the mean, where too few points are about. */
function fittedAtMiddle(sums: Float64Array, from: number, bent: boolean): number {
  const [m0, m1, m2, m3, m4] = [sums[0]!, sums[1]!, sums[2]!, sums[3]!, sums[4]!]
  const [v0, v1, v2] = [sums[from]!, sums[from + 1]!, sums[from + 2]!]
  const [a, b, c] = [m2 * m4 - m3 * m3, m1 * m4 - m2 * m3, m1 * m3 - m2 * m2]
  const whole = m0 * a - m1 * b + m2 * c
  if (bent && whole > 1e-3 * m0 * m2 * m4) {
    const bend = (v0 * c + v1 * (m1 * m2 - m0 * m3) + v2 * (m0 * m2 - m1 * m1)) / whole
    return (v0 * a - v1 * b + v2 * c) / whole - summedOver * bend
  }
  const line = m0 * m2 - m1 * m1
  return line > 1e-6 * m0 * m2 ? (v0 * m2 - v1 * m1) / line : v0 / m0
}

export function lengthsAlong(points: LinePoints, chain: Chain): Float64Array {
  const along = new Float64Array(chain.length)
  for (let n = 1; n < chain.length; n++)
    along[n] = along[n - 1]! + stepLength(points, chain[n - 1]!, chain[n]!)
  return along
}

/** A chain parted where it turns sharply. */
export function partedAtCorners(points: LinePoints, chain: Chain): Chain[] {
  const along = lengthsAlong(points, chain)
  if (along.at(-1)! < 2 * cornerReach) return [chain]
  const turns = chain.map((_, n) => turnAt(points, chain, along, n))
  const cuts: number[] = []
  turns.forEach((turn, n) => {
    if (turn < cornerTurn) return
    for (let k = n - 1; k >= 0 && along[n]! - along[k]! <= cornerReach; k--) if (turns[k]! >= turn) return
    for (let k = n + 1; k < chain.length && along[k]! - along[n]! <= cornerReach; k++)
      if (turns[k]! > turn) return
    cuts.push(n)
  })
  return [...cuts, chain.length - 1].map((end, c) => chain.slice(c === 0 ? 0 : cuts[c - 1], end + 1))
}

function turnAt(points: LinePoints, chain: Chain, along: Float64Array, n: number): number {
  let [before, after] = [n, n]
  while (before > 0 && along[n]! - along[before]! < cornerReach) before--
  while (after < chain.length - 1 && along[after]! - along[n]! < cornerReach) after++
  if (along[n]! - along[before]! < cornerReach || along[after]! - along[n]! < cornerReach) return 0
  const way = (from: number, to: number): number => {
    const [a, b] = [chain[from]! * pointStride, chain[to]! * pointStride]
    return Math.atan2(points[b + at.y]! - points[a + at.y]!, points[b + at.x]! - points[a + at.x]!)
  }
  const turn = Math.abs(way(n, after) - way(before, n))
  return Math.min(turn, 2 * Math.PI - turn)
}
