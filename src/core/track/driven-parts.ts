import type { OrderedFixes } from './order-fixes.ts'
import type { PlanarTrack } from './planar-track.ts'

/** A part of a track that was driven, not walked. Places in the ordered fixes, both included. */
export interface FixRange {
  readonly from: number
  readonly to: number
}

/** Speed is judged over this many seconds, so that a spike or a single jump makes none. */
const overS = 10
/** A drive lasts at least this long, and leads at least this far. */
const leastS = 20
const leastM = 100
/** Shorter halts belong to the drive: a gate, a crossing. */
const haltS = 120

/**
 * Finds drives: stretches within a piece where the speed over ten seconds stays above `drivenMS` for 20 s and 100 m or more, halts of
 * up to two minutes included. Cost: one pass.
 */
export function drivenParts({ xy, time }: PlanarTrack, ordered: OrderedFixes, drivenMS: number): FixRange[] {
  if (time === null) return []
  const { fix, pieceStart } = ordered
  const parts: FixRange[] = []
  for (let p = 0; p < pieceStart.length; p++) {
    const end = pieceStart[p + 1] ?? fix.length
    const found: { from: number; to: number }[] = []
    for (let i = pieceStart[p]!, j = i; i < end; i++) {
      while (j < end && time[fix[j]!]! - time[fix[i]!]! < overS) j++
      if (j === end) break
      const metres = Math.hypot(
        xy[2 * fix[j]!]! - xy[2 * fix[i]!]!,
        xy[2 * fix[j]! + 1]! - xy[2 * fix[i]! + 1]!,
      )
      if (!(metres > drivenMS * (time[fix[j]!]! - time[fix[i]!]!))) continue
      const last = found.at(-1)
      if (last !== undefined && time[fix[i]!]! - time[fix[last.to]!]! <= 0) last.to = j
      else found.push({ from: i, to: j })
    }
    const seconds = (a: number, b: number): number => time[fix[b]!]! - time[fix[a]!]!
    const metres = (a: number, b: number): number =>
      Math.hypot(xy[2 * fix[b]!]! - xy[2 * fix[a]!]!, xy[2 * fix[b]! + 1]! - xy[2 * fix[a]! + 1]!)
    // One jump makes a stretch no longer than the ten seconds on either side of it.
    const driven = found.filter(
      ({ from, to }) => seconds(from, to) >= leastS + overS / 2 && metres(from, to) >= leastM,
    )
    for (const part of driven) {
      const last = parts.at(-1)
      if (last !== undefined && last.from >= pieceStart[p]! && seconds(last.to, part.from) <= haltS)
        parts[parts.length - 1] = { from: last.from, to: part.to }
      else parts.push(part)
    }
  }
  return parts
}

/** Begins a piece at the first fix of each drive and after its last; the drives are then whole pieces. */
export function breakAtDrives(ordered: OrderedFixes, drives: readonly FixRange[]): OrderedFixes {
  const begins = new Map(ordered.pieceStart.map((at, p) => [at, ordered.cause[p]!]))
  for (const { from, to } of drives) {
    if (!begins.has(from)) begins.set(from, 'drive')
    if (to + 1 < ordered.fix.length && !begins.has(to + 1)) begins.set(to + 1, 'drive')
  }
  const sorted = [...begins].sort(([a], [b]) => a - b)
  return { fix: ordered.fix, pieceStart: sorted.map(([at]) => at), cause: sorted.map(([, cause]) => cause) }
}
