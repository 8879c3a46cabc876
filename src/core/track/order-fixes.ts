import type { PlanarTrack } from './planar-track.ts'

/** Why a fix was left out of the cleaned track. In `rejectedAs` a fix carries the place of its reason here, plus 1; 0 if kept. */
export const rejections = ['no-place', 'no-time', 'same-time', 'clock-back', 'spike'] as const
export type Rejection = (typeof rejections)[number]

/** Why a piece of the cleaned track begins where it does. */
export type PieceCause = 'start' | 'segment' | 'gap' | 'jump' | 'clock-back' | 'drive'

/** Fixes that stay, in their order, and where unbroken pieces begin. */
export interface OrderedFixes {
  /** Number of each fix in the recorded track. */
  readonly fix: Uint32Array
  /** Place in `fix` of the first fix of each piece, ascending, and why it begins there. */
  readonly pieceStart: readonly number[]
  readonly cause: readonly PieceCause[]
}

export function rejectionNumber(reason: Rejection): number {
  return rejections.indexOf(reason) + 1
}

/** Fixes looked at beyond one whose clock stands back, to tell a slip of one fix from a clock that was set anew. */
const lookAhead = 10

/**
 * Takes out fixes that have no place, no time among timed ones, a time that stood before, or a clock that slipped back, and breaks
 * the track at segments, at gaps in time and where the clock was set back. Within a piece times ascend strictly.
 */
export function orderFixes(
  { xy, time, segmentStart }: PlanarTrack,
  maxGapS: number,
  rejectedAs: Uint8Array,
): OrderedFixes {
  const count = xy.length >> 1
  const fix = new Uint32Array(count)
  const pieceStart: number[] = []
  const cause: PieceCause[] = []
  let kept = 0
  let next = 0
  let why: PieceCause | null = 'start'
  for (let i = 0; i < count; i++) {
    while (next < segmentStart.length && segmentStart[next]! <= i) {
      if (kept > 0) why = 'segment'
      next++
    }
    if (!Number.isFinite(xy[2 * i]!) || !Number.isFinite(xy[2 * i + 1]!)) {
      rejectedAs[i] = rejectionNumber('no-place')
      continue
    }
    if (time !== null && !Number.isFinite(time[i]!)) {
      rejectedAs[i] = rejectionNumber('no-time')
      continue
    }
    if (why === null && time !== null) {
      const before = fix[kept - 1]!
      const lasts = time[i]! - time[before]!
      if (lasts === 0) {
        rejectedAs[i] = rejectionNumber('same-time')
        continue
      }
      if (lasts > maxGapS) why = 'gap'
      if (lasts < 0) {
        const end = segmentStart[next] ?? count
        // A fix that stands far ahead of its time has begun a piece of its own behind a gap that is none.
        const aheadOfGap = pieceStart.at(-1) === kept - 1 && cause.at(-1) === 'gap'
        const earlier = aheadOfGap || kept - 2 >= pieceStart.at(-1)! ? time[fix[kept - 2]!]! : Number.NaN
        if (reaches(time, i + 1, end, time[before]!)) {
          rejectedAs[i] = rejectionNumber('clock-back')
          continue
        }
        if (time[i]! > earlier) {
          // The fix before stood ahead of its time: it goes, and this one takes its place.
          rejectedAs[before] = rejectionNumber('clock-back')
          fix[kept - 1] = i
          if (aheadOfGap && time[i]! - earlier <= maxGapS) {
            pieceStart.pop()
            cause.pop()
          }
          continue
        }
        why = 'clock-back'
      }
    }
    if (why !== null) {
      pieceStart.push(kept)
      cause.push(why)
      why = null
    }
    fix[kept++] = i
  }
  return { fix: fix.subarray(0, kept), pieceStart, cause }
}

/** Whether the clock soon stands later than `than` again. */
function reaches(time: Float64Array, from: number, end: number, than: number): boolean {
  for (let i = from; i < Math.min(end, from + lookAhead); i++) if (time[i]! > than) return true
  return false
}
