import type { CleanedTrack } from './cleaned-track.ts'
import { driven, standing } from './find-stops.ts'

/** A stretch walked faster than the coil can follow. Cleaned fixes, both included. */
export interface FastStretch {
  readonly from: number
  readonly to: number
  readonly metres: number
  readonly seconds: number
  /** Seconds since 1970-01-01 UTC. */
  readonly start: number
  readonly end: number
}

/** The fastest walk at which the coil, `coilM` long along the walk, leaves nothing out straight ahead: v = D f (docs/methods/effort.md). */
export function safeSpeed(coilM: number, rateHz: number): number {
  return coilM * rateHz
}

/** The stretches walked above a speed, in order: legs whose mean speed is above it, joined. Empty without times. */
export function fastStretches(
  { xy, time, state, segmentStart }: CleanedTrack,
  aboveMS: number,
): FastStretch[] {
  if (time === null) return []
  const found: FastStretch[] = []
  for (let k = 1, next = 1; k < time.length; k++) {
    if (segmentStart[next] === k) {
      next++
      continue
    }
    if (state[k] === driven || (state[k] === standing && state[k - 1] === standing)) continue
    const metres = Math.hypot(xy[2 * k]! - xy[2 * k - 2]!, xy[2 * k + 1]! - xy[2 * k - 1]!)
    const seconds = time[k]! - time[k - 1]!
    if (!(metres > aboveMS * seconds)) continue
    const last = found.at(-1)
    const end = time[k]!
    if (last?.to === k - 1)
      found[found.length - 1] = {
        ...last,
        to: k,
        metres: last.metres + metres,
        seconds: last.seconds + seconds,
        end,
      }
    else found.push({ from: k - 1, to: k, metres, seconds, start: time[k - 1]!, end })
  }
  return found
}
