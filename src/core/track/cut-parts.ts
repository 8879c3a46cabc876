import type { TrackFixes } from './track-fixes.ts'

/** A track without some of its recorded fixes (ranges with both ends), broken where they were: a drive home cut off. */
export function cutParts(
  track: TrackFixes,
  parts: readonly { readonly fromFix: number; readonly toFix: number }[],
): TrackFixes {
  const count = track.xy.length >> 1
  const out = new Uint8Array(count)
  for (const { fromFix, toFix } of parts) out.fill(1, fromFix, toFix + 1)
  const kept: number[] = []
  const starts: number[] = []
  let next = 0
  let broken = true
  for (let i = 0; i < count; i++) {
    while (next < track.segmentStart.length && track.segmentStart[next]! <= i) {
      broken = true
      next++
    }
    if (out[i] === 1) {
      broken = true
      continue
    }
    if (broken) starts.push(kept.length)
    broken = false
    kept.push(i)
  }
  const taken = (values: Float64Array | null | undefined): Float64Array | null =>
    values ? Float64Array.from(kept, (i) => values[i]!) : null
  return {
    epsg: track.epsg,
    xy: Float64Array.from({ length: 2 * kept.length }, (_, k) => track.xy[2 * kept[k >> 1]! + (k & 1)]!),
    segmentStart: Uint32Array.from(starts),
    time: taken(track.time),
    accuracyM: taken(track.accuracyM),
    hdop: taken(track.hdop),
  }
}
