import type { Polygon } from '#core/geometry'
import { type EdgeRun, edgeRuns, neededRun } from './edge-runs.ts'
import { laneFrame, outOfFrame, ringsInFrame } from './lane-frame.ts'
import { layStrips, middleOf, type Strips } from './strips.ts'

/** Lanes of one piece of ground, strip by strip, each with its pairs in the sense of the bearing. */
export interface LaidLanes {
  /** Degrees clockwise from grid north. */
  readonly bearing: number
  /** Interleaved eastings and northings of all lanes. */
  readonly xy: Float64Array
  /** First pair of each lane, and past the last. */
  readonly start: Uint32Array
  /** Which strip each lane is of; ascending. */
  readonly strip: Uint32Array
  /** How far each lane reaches along the bearing, from an origin that all share. */
  readonly from: Float64Array
  readonly to: Float64Array
}

export interface ParallelWanted {
  /** Degrees clockwise from grid north. */
  readonly bearing: number
  /** Between middle lines, metres. */
  readonly spacing: number
  /** Whether ground at the edge that no middle line comes near gets lanes along the outline. */
  readonly edges: boolean
  /** Whether the rings neither cross themselves nor each other, the first being the outline. */
  readonly sound: boolean
}

/**
 * Parallel lanes over one polygon: the middle lines of strips one spacing wide, cut by the outline, and, with `edges`, drawn out along
 * the outline where ground of the strip lies beyond their reach. Then no ground is farther than half a spacing from a lane, and
 * every lane lies on the ground, its outline included.
 *
 * CRS     planar, metres. A rounding error of some 1e-9 m is left in the corners.
 * Cost    linear in corners and lanes, plus sorting the crossings of each line.
 * Source  docs/methods/lanes.md#parallel-lanes
 * Faults  SurveyError('setting-out-of-range') where there would be millions of lanes.
 */
export function parallelLanes(polygon: Polygon, wanted: ParallelWanted): LaidLanes {
  const outer = polygon.rings[0]
  const frame = laneFrame(wanted.bearing, outer?.[0] ?? 0, outer?.[1] ?? 0)
  const rings = ringsInFrame(polygon, frame, wanted.sound)
  const strips = layStrips(rings, wanted.spacing)
  const runs = wanted.edges
    ? runsByStrip(edgeRuns(rings, strips, wanted.sound))
    : new Map<number, EdgeRun[]>()
  const uv: number[] = []
  const start: number[] = [0]
  const strip: number[] = []
  for (let k = 0; k < strips.count; k++) {
    for (const lane of lanesOfStrip(strips, k, runs.get(k) ?? [])) {
      if (!isWalked(lane)) continue
      for (const value of lane) uv.push(value)
      start.push(uv.length >> 1)
      strip.push(k)
    }
  }
  const xy = Float64Array.from(uv)
  const from = new Float64Array(strip.length)
  const to = new Float64Array(strip.length)
  for (let i = 0; i < strip.length; i++) {
    let [west, east] = [Infinity, -Infinity]
    for (let p = start[i]!; p < start[i + 1]!; p++) {
      west = Math.min(west, xy[2 * p]!)
      east = Math.max(east, xy[2 * p]!)
    }
    from[i] = west
    to[i] = east
  }
  outOfFrame(xy, frame)
  return {
    bearing: wanted.bearing,
    xy,
    start: Uint32Array.from(start),
    strip: Uint32Array.from(strip),
    from,
    to,
  }
}

/** Shorter than this, metres, a lane is rounding at a corner. */
const shortest = 1e-6

function isWalked(lane: readonly number[]): boolean {
  for (let i = 2; i < lane.length; i += 2)
    if (Math.abs(lane[i]! - lane[0]!) + Math.abs(lane[i + 1]! - lane[1]!) > shortest) return true
  return false
}

function runsByStrip(runs: readonly EdgeRun[]): Map<number, EdgeRun[]> {
  const byStrip = new Map<number, EdgeRun[]>()
  for (const run of runs) {
    const there = byStrip.get(run.strip)
    if (there === undefined) byStrip.set(run.strip, [run])
    else there.push(run)
  }
  return byStrip
}

/** Ends this close are one place, metres: the same crossing may have been reckoned from two edges. */
const samePlace = 1e-7

/** The lanes of one strip from west to east: stretches of the middle line with the edge runs that carry on from them, and runs that stand alone. */
function lanesOfStrip(strips: Strips, k: number, runs: readonly EdgeRun[]): number[][] {
  const { first, from, to } = strips
  const v = middleOf(strips.low, strips.spacing, k)
  if (runs.length === 0)
    return Array.from({ length: first[k + 1]! - first[k]! }, (_, i) => [
      from[first[k]! + i]!,
      v,
      to[first[k]! + i]!,
      v,
    ])
  const begins = new Map<number, EdgeRun>()
  const ends = new Map<number, EdgeRun>()
  const alone: EdgeRun[] = []
  for (const run of runs) {
    const before = stretchAt(strips.to, first[k]!, first[k + 1]!, run.uv[0]!, run.uv[1]! - v)
    const after = stretchAt(from, first[k]!, first[k + 1]!, run.uv.at(-2)!, run.uv.at(-1)! - v)
    const free = !(before >= 0 && begins.has(before)) && !(after >= 0 && ends.has(after))
    if (!free || (before < 0 && after < 0)) alone.push(run)
    if (free && before >= 0) begins.set(before, run)
    if (free && after >= 0) ends.set(after, run)
  }
  const lanes: number[][] = []
  let lane: number[] = []
  for (let i = first[k]!; i < first[k + 1]!; i++) {
    const lead = ends.get(i)
    if (lead !== undefined && lane.length === 0)
      lane.push(...turned(neededRun(turned(lead.uv), lead.upper, k, strips)))
    if (lane.at(-2) !== from[i] || lane.at(-1) !== v) lane.push(from[i]!, v)
    lane.push(to[i]!, v)
    const tail = begins.get(i)
    const bridge = tail !== undefined && tail === ends.get(i + 1)
    if (tail !== undefined)
      lane.push(...(bridge ? tail.uv : neededRun(tail.uv, tail.upper, k, strips)).slice(2))
    if (bridge) continue
    lanes.push(lane)
    lane = []
  }
  for (const { uv } of alone) lanes.push([...uv])
  return lanes.sort((a, b) => a[0]! - b[0]!)
}

/** The stretch with this end at `u`, if the place lies on the middle line; -1 if there is none. */
function stretchAt(ends: Float64Array, begin: number, end: number, u: number, offLine: number): number {
  if (Math.abs(offLine) > samePlace) return -1
  for (let i = begin; i < end; i++) if (Math.abs(ends[i]! - u) <= samePlace) return i
  return -1
}

function turned(uv: readonly number[]): number[] {
  const out: number[] = []
  for (let i = uv.length - 2; i >= 0; i -= 2) out.push(uv[i]!, uv[i + 1]!)
  return out
}
