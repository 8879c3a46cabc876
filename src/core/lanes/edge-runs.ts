import { crossingAt, middleOf, type Strips } from './strips.ts'

/**
 * A stretch of the outline that has to be walked, because ground of its strip lies beyond it that the middle line does not
 * come near: the middle line is off the ground there. Its pairs run towards greater u.
 */
export interface EdgeRun {
  readonly strip: number
  /** The upper half of the strip, or the lower. */
  readonly upper: boolean
  /** u, v pairs, at least two. */
  readonly uv: readonly number[]
}

/**
 * The stretches of an outline that must be walked besides the middle lines so that no ground is farther than half a spacing
 * from a lane.
 *
 * Method  take a spot of the ground in the upper half of a strip and go down from it to the middle line, half a spacing at most. If the
 *         middle line is on the ground there, it is near enough. If not, the way leaves the ground at an edge that has the
 *         ground above it, and that edge is nearer still. So the edges wanted are those in upper halves with the ground above them
 *         and those in lower halves with the ground below, as far as the middle line is off the ground there.
 * Shape   `wound` rings have the ground on their left; of rings that are not wound every edge is taken from both sides, which
 *         walks more than is needed.
 * Cost    linear in edges and half strips crossed, plus a search in the stretches of a strip for each.
 */
export function edgeRuns(rings: readonly Float64Array[], strips: Strips, wound: boolean): EdgeRun[] {
  const runs = new RunBuilder(strips)
  for (const ring of rings) {
    const corners = (ring.length >> 1) - 1
    const begin = eastmost(ring, corners)
    for (let c = 0; c < corners; c++) eachHalf(ring, 2 * ((begin + c) % corners), strips, wound, runs)
    runs.close()
  }
  return runs.done
}

/** No run passes through the corner of greatest u: there edges turn back. */
function eastmost(ring: Float64Array, corners: number): number {
  let best = 0
  for (let c = 1; c < corners; c++) if (ring[2 * c]! > ring[2 * best]!) best = c
  return best
}

/** Cuts one edge at the lines that part half strips and hands on the pieces that face their middle line. */
function eachHalf(ring: Float64Array, i: number, strips: Strips, wound: boolean, runs: RunBuilder): void {
  const { low, spacing, count } = strips
  const half = spacing / 2
  const [u0, v0, u1, v1] = [ring[i]!, ring[i + 1]!, ring[i + 2]!, ring[i + 3]!]
  const upright = u0 === u1
  const east = u1 > u0
  const [q0, q1] = [(v0 - low) / half, (v1 - low) / half]
  const rising = q1 > q0
  const level = q0 === q1
  // A level edge on a line between halves belongs to the half its ground is in.
  const first = level && !east ? Math.ceil(q0) - 1 : Math.floor(q0)
  const start = !level && !rising ? Math.ceil(q0) - 1 : first
  const end = level ? start : rising ? Math.ceil(q1) - 1 : Math.floor(q1)
  let u = u0
  let v = v0
  // Of an edge that is not wound, on such a line, the ground may be on either side: it is taken for both halves.
  const other = Math.ceil(q0) - 1
  if (level && !wound && other !== start) {
    runs.close()
    runs.add(Math.min(count - 1, Math.max(0, other >> 1)), (other & 1) === 1, u0, v0, u1, v1)
    runs.close()
  }
  for (let h = start; rising ? h <= end : h >= end; h += rising ? 1 : -1) {
    const line = low + (rising ? h + 1 : h) * half
    const last = h === end
    const nextV = last ? v1 : line
    const nextU = last ? u1 : crossingAt(ring, i, line)
    const upper = (h & 1) === 1
    const strip = Math.min(count - 1, Math.max(0, h >> 1))
    if (upright) runs.follow(strip, upper, nextU, nextV, u, v)
    else if (!wound || upper === east) runs.add(strip, upper, u, v, nextU, nextV)
    u = nextU
    v = nextV
    if (level) break
  }
}

/** Pieces shorter than this along the lanes are rounding, not ground; metres. */
const least = 1e-9

class RunBuilder {
  readonly done: EdgeRun[] = []
  readonly #strips: Strips
  #strip = -1
  #upper = false
  #east = false
  #uv: number[] = []

  constructor(strips: Strips) {
    this.#strips = strips
  }

  /** Takes a piece of an edge within one half strip, less what lies beside the stretches of its middle line. */
  add(strip: number, upper: boolean, u0: number, v0: number, u1: number, v1: number): void {
    const { first, from, to } = this.#strips
    const west = Math.min(u0, u1)
    const most = Math.max(u0, u1)
    let i = firstEndingAfter(to, first[strip]!, first[strip + 1]!, west)
    const free: number[] = []
    let at = west
    for (; i < first[strip + 1]! && from[i]! < most; i++) {
      if (from[i]! > at) free.push(at, from[i]!)
      at = Math.max(at, to[i]!)
    }
    if (at < most) free.push(at, most)
    const height = (u: number): number =>
      u === u0 ? v0 : u === u1 ? v1 : v0 + ((u - u0) / (u1 - u0)) * (v1 - v0)
    if (u1 > u0)
      for (let k = 0; k < free.length; k += 2)
        this.#piece(strip, upper, free[k]!, height(free[k]!), free[k + 1]!, height(free[k + 1]!))
    else
      for (let k = free.length - 2; k >= 0; k -= 2)
        this.#piece(strip, upper, free[k + 1]!, height(free[k + 1]!), free[k]!, height(free[k]!))
  }

  #piece(strip: number, upper: boolean, u0: number, v0: number, u1: number, v1: number): void {
    if (Math.abs(u1 - u0) < least) return
    if (!this.#goesOn(strip, upper, u0, v0) || this.#east !== u1 > u0) {
      this.close()
      this.#strip = strip
      this.#upper = upper
      this.#east = u1 > u0
      this.#uv.push(u0, v0)
    }
    this.#uv.push(u1, v1)
  }

  #goesOn(strip: number, upper: boolean, u: number, v: number): boolean {
    const n = this.#uv.length
    const here = n > 0 && strip === this.#strip && upper === this.#upper
    return here && this.#uv[n - 2] === u && this.#uv[n - 1] === v
  }

  /** Takes a piece straight across the lanes if a run has just come to it: the run may go on behind it. */
  follow(strip: number, upper: boolean, toU: number, toV: number, u: number, v: number): void {
    if (this.#goesOn(strip, upper, u, v)) this.#uv.push(toU, toV)
  }

  close(): void {
    const uv = this.#uv
    while (uv.length >= 4 && uv.at(-2) === uv.at(-4)) uv.length -= 2
    if (uv.length >= 4)
      this.done.push({ strip: this.#strip, upper: this.#upper, uv: this.#east ? uv : backwards(uv) })
    this.#uv = []
  }
}

function backwards(uv: readonly number[]): number[] {
  const out: number[] = []
  for (let i = uv.length - 2; i >= 0; i -= 2) out.push(uv[i]!, uv[i + 1]!)
  return out
}

function firstEndingAfter(to: Float64Array, begin: number, end: number, u: number): number {
  let [a, b] = [begin, end]
  while (a < b) {
    const middle = (a + b) >> 1
    if (to[middle]! > u) b = middle
    else a = middle + 1
  }
  return a
}

/**
 * How far an edge run has to be walked from its first pair so that all ground up from it to the far edge of its strip lies
 * within half a spacing of what was walked: its pairs up to there, only the first where nothing has to be walked at all.
 *
 * Method  past the place where one stops, the ground lies in the hull of the rest of the run and the strip's far edge above it; a
 *         disc holds a hull when it holds its corners.
 */
export function neededRun(run: readonly number[], upper: boolean, strip: number, strips: Strips): number[] {
  const { low, spacing } = strips
  const far = middleOf(low, spacing, strip) + (upper ? spacing / 2 : -spacing / 2)
  const reach = (spacing / 2) * (1 - 1e-12)
  const n = run.length >> 1
  const corners = [...run, run[2 * n - 2]!, far]
  const holds = (u: number, v: number, past: number): boolean => {
    for (let c = past; c < corners.length; c += 2)
      if ((corners[c]! - u) ** 2 + (corners[c + 1]! - v) ** 2 > reach * reach) return false
    return true
  }
  let i = n - 1
  while (i > 0 && holds(run[2 * i - 2]!, run[2 * i - 1]!, 2 * i)) i--
  if (i === 0) return run.slice(0, 2)
  // The place lies between corner i - 1, too early, and corner i.
  const [au, av, bu, bv] = [run[2 * i - 2]!, run[2 * i - 1]!, run[2 * i]!, run[2 * i + 1]!]
  let [early, enough] = [0, 1]
  for (let step = 0; step < 40; step++) {
    const t = (early + enough) / 2
    if (holds(au + t * (bu - au), av + t * (bv - av), 2 * i)) enough = t
    else early = t
  }
  return [...run.slice(0, 2 * i), au + enough * (bu - au), av + enough * (bv - av)]
}
