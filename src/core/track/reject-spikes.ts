import { type OrderedFixes, type PieceCause, rejectionNumber } from './order-fixes.ts'
import type { PlanarTrack } from './planar-track.ts'

/** A fix that strays so long is no spike but a place: the track jumps there. */
const longestSpikeS = 60
const longestSpikeFixes = 200
/** Fewer fixes than this between two jumps, or before the first, are spikes too. */
const fewFixes = 3
/** Without times: a step longer than this is a jump, metres. */
const untimedJumpM = 50
/** No car is faster, metres a second. */
const fastestDrivenMS = 70
/** Errors of two fixes together that a step may be longer than speed allows. */
const allowedErrors = 4

export interface SpikeLimits {
  readonly fastestMS: number
  /** Quick part of the error of each recorded fix along one axis, metres. */
  readonly quickM: Float64Array
  /** Whether each ordered fix was driven. */
  readonly driven: Uint8Array
}

/**
 * Takes out spikes and breaks the track at jumps. A step is possible when its length is no more than the fastest speed on foot allows, and
 * four errors of its two fixes. Where a step is not possible and a later step jumps back to within reach, what lies between is a spike;
 * where none does within a minute, the track jumps and a new piece begins.
 */
export function rejectSpikes(
  track: PlanarTrack,
  ordered: OrderedFixes,
  limits: SpikeLimits,
  rejectedAs: Uint8Array,
): OrderedFixes {
  const { fix, pieceStart } = ordered
  const out = new Uint32Array(fix.length)
  const starts: number[] = []
  const cause: PieceCause[] = []
  let kept = 0
  for (let p = 0; p < pieceStart.length; p++) {
    const end = pieceStart[p + 1] ?? fix.length
    let last = pieceStart[p]!
    starts.push(kept)
    cause.push(ordered.cause[p]!)
    out[kept++] = fix[last]!
    for (let i = last + 1; i < end; i++) {
      if (!isPossible(track, ordered, limits, last, i)) {
        const back = jumpBack(track, ordered, limits, last, i, end)
        if (back > 0) {
          for (; i < back; i++) rejectedAs[fix[i]!] = rejectionNumber('spike')
        } else {
          starts.push(kept)
          cause.push('jump')
        }
      }
      out[kept++] = fix[i]!
      last = i
    }
  }
  return withoutStrays({ fix: out.subarray(0, kept), pieceStart: starts, cause }, rejectedAs)
}

/** The first fix that is within reach of `last` again and that the step before it could not have led to; 0 if none. */
function jumpBack(
  track: PlanarTrack,
  ordered: OrderedFixes,
  limits: SpikeLimits,
  last: number,
  from: number,
  end: number,
): number {
  const { time } = track
  const { fix } = ordered
  for (let c = from + 1; c < Math.min(end, from + longestSpikeFixes); c++) {
    if (time !== null && time[fix[c]!]! - time[fix[last]!]! > longestSpikeS) return 0
    if (!isPossible(track, ordered, limits, c - 1, c) && isPossible(track, ordered, limits, last, c)) return c
  }
  return 0
}

function isPossible(
  { xy, time }: PlanarTrack,
  { fix }: OrderedFixes,
  { fastestMS, quickM, driven }: SpikeLimits,
  a: number,
  b: number,
): boolean {
  const [i, j] = [fix[a]!, fix[b]!]
  const metres = Math.hypot(xy[2 * j]! - xy[2 * i]!, xy[2 * j + 1]! - xy[2 * i + 1]!)
  if (time === null) return metres <= untimedJumpM
  const speed = driven[a] === 1 && driven[b] === 1 ? fastestDrivenMS : fastestMS
  return metres <= speed * (time[j]! - time[i]!) + allowedErrors * Math.hypot(quickM[i]!, quickM[j]!)
}

/** A few fixes that hang on nothing but a jump are spikes: a receiver that had not yet found its place, or lost it. */
function withoutStrays(ordered: OrderedFixes, rejectedAs: Uint8Array): OrderedFixes {
  const { fix, pieceStart, cause } = ordered
  const sizes = pieceStart.map((from, p) => (pieceStart[p + 1] ?? fix.length) - from)
  if (!sizes.some((size) => size >= fewFixes)) return ordered
  const kept = new Uint32Array(fix.length)
  const starts: number[] = []
  const causes: PieceCause[] = []
  let length = 0
  for (let p = 0; p < pieceStart.length; p++) {
    const fixes = fix.subarray(pieceStart[p]!, pieceStart[p]! + sizes[p]!)
    if (sizes[p]! < fewFixes && (cause[p] === 'jump' || cause[p + 1] === 'jump')) {
      for (const i of fixes) rejectedAs[i] = rejectionNumber('spike')
      continue
    }
    starts.push(length)
    causes.push(length === 0 ? 'start' : cause[p]!)
    kept.set(fixes, length)
    length += fixes.length
  }
  return { fix: kept.subarray(0, length), pieceStart: starts, cause: causes }
}
