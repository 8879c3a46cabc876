import type { LaneLine } from './compare-lanes.ts'

/**
 * The part of a line between two lengths from its beginning, its corners in between kept. Metres; interleaved pairs as they came in.
 * Lengths beyond its ends are its ends.
 */
export function partOfLane(xy: LaneLine, fromM: number, toM: number): Float64Array {
  const part: number[] = []
  let at = 0
  for (let i = 0; i + 3 < xy.length; i += 2) {
    const [dx, dy] = [xy[i + 2]! - xy[i]!, xy[i + 3]! - xy[i + 1]!]
    const length = Math.hypot(dx, dy)
    if (!(length > 0)) continue
    const first = Math.max(0, (fromM - at) / length)
    const last = Math.min(1, (toM - at) / length)
    at += length
    if (!(first < last)) continue
    if (part.length === 0) part.push(xy[i]! + first * dx, xy[i + 1]! + first * dy)
    part.push(xy[i]! + last * dx, xy[i + 1]! + last * dy)
  }
  return Float64Array.from(part)
}
