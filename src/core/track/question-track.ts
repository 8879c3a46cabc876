import type { Bounds } from '#core/geometry'
import type { PlanarTrack } from './planar-track.ts'

/** Something odd about where a whole track lies, for a person to decide. */
export interface TrackQuestion {
  readonly code: 'no-fix' | 'far-away' | 'beside'
  /** One sentence. */
  readonly text: string
  /** From the middle of the track to the ground searched, metres; null where it has no place. */
  readonly awayM: number | null
}

/** Farther from the ground than this, metres, is another country: a wrong file. */
const farAwayM = 50_000

/**
 * Asks whether a track belongs to the ground it is set against: one on another continent, or one that never comes within `besideM` of
 * it. Null where nothing is odd. Cost: one pass.
 */
export function questionTrack(track: PlanarTrack, ground: Bounds, besideM = 100): TrackQuestion | null {
  let near = Infinity
  for (let i = 0; i + 1 < track.xy.length; i += 2) {
    const away = distanceTo(ground, track.xy[i]!, track.xy[i + 1]!)
    if (away < near) near = away
  }
  if (near === Infinity)
    return {
      code: 'no-fix',
      text: 'No fix of the track has a place in the grid of the ground: it lies in another country, or is empty.',
      awayM: null,
    }
  if (near > farAwayM)
    return {
      code: 'far-away',
      text: `The track lies ${(near / 1000).toFixed(0)} km from the ground searched: is it the right file?`,
      awayM: near,
    }
  if (near > besideM)
    return {
      code: 'beside',
      text: `The track never comes nearer than ${near.toFixed(0)} m to the ground searched.`,
      awayM: near,
    }
  return null
}

function distanceTo({ minX, minY, maxX, maxY }: Bounds, x: number, y: number): number {
  const east = Math.max(minX - x, 0, x - maxX)
  const north = Math.max(minY - y, 0, y - maxY)
  return Number.isFinite(east + north) ? Math.hypot(east, north) : Infinity
}
