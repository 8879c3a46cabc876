import type { PlanarTrack } from './planar-track.ts'

/** Two fixes farther apart than this, seconds, say nothing of what lies between. */
const longestStepS = 60

/** Place of the first time that is at or after `t` in ascending times; their count where none is. */
function firstAtOrAfter(time: Float64Array, t: number): number {
  let [low, high] = [0, time.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (time[middle]! < t) low = middle + 1
    else high = middle
  }
  return low
}

/** The place at a time between two fixes, times ascending; null before the first, after the last, and in a gap. */
export function placeBetween(
  { time, xy }: Pick<PlanarTrack, 'xy' | 'time'>,
  t: number,
): [number, number] | null {
  if (time === null) return null
  const after = firstAtOrAfter(time, t)
  if (after >= time.length || (after === 0 && time[0]! > t)) return null
  const before = Math.max(0, after - 1)
  const lasts = time[after]! - time[before]!
  if (!(lasts <= longestStepS)) return null
  const part = lasts > 0 ? (t - time[before]!) / lasts : 0
  const x = xy[2 * before]! + part * (xy[2 * after]! - xy[2 * before]!)
  const y = xy[2 * before + 1]! + part * (xy[2 * after + 1]! - xy[2 * before + 1]!)
  return Number.isFinite(x) && Number.isFinite(y) ? [x, y] : null
}

/** Where the walker was at a time, by the first track that tells. */
export function placeAtTime(tracks: readonly PlanarTrack[], t: number): { x: number; y: number } | null {
  for (const track of tracks) {
    const place = placeBetween(track, t)
    if (place !== null) return { x: place[0], y: place[1] }
  }
  return null
}
