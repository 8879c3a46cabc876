import { placeAtTime } from './place-at-time.ts'
import type { PlanarTrack } from './planar-track.ts'

/** A findspot or the like that moments may belong to. */
export interface Spot {
  readonly x: number
  readonly y: number
  /** Seconds since 1970-01-01 UTC; null where not told. */
  readonly time: number | null
}

/** A findspot set against the tracks of its visit. */
export interface SpotQuestion {
  readonly spot: number
  readonly code: 'far-from-track' | 'far-at-its-time' | 'outside-times'
  readonly metres: number | null
  /** One sentence. */
  readonly text: string
}

/**
 * Questions findspots that lie farther than `withinM` from every track, that lie far from where the walker was at their time, or whose time no track
 * holds. A person decides; nothing is moved. Cost: findspots times fixes.
 */
export function questionSpots(
  spots: readonly Spot[],
  tracks: readonly PlanarTrack[],
  withinM: number,
): SpotQuestion[] {
  if (tracks.every(({ xy }) => xy.length === 0)) return []
  return spots.flatMap((at, spot): SpotQuestion[] => {
    const metres = Math.min(...tracks.map((track) => distanceToTrack(track, at.x, at.y)))
    if (metres > withinM)
      return [
        {
          spot,
          code: 'far-from-track',
          metres,
          text: `The findspot lies ${metres.toFixed(0)} m from the nearest track: is its place right?`,
        },
      ]
    if (at.time === null || tracks.every(({ time }) => time === null)) return []
    const there = placeAtTime(tracks, at.time)
    if (there === null)
      return [
        {
          spot,
          code: 'outside-times',
          metres: null,
          text: 'No track was being recorded at the time of the findspot.',
        },
      ]
    const apart = Math.hypot(there.x - at.x, there.y - at.y)
    if (apart <= 2 * withinM) return []
    return [
      {
        spot,
        code: 'far-at-its-time',
        metres: apart,
        text: `At its time the walker was ${apart.toFixed(0)} m from the findspot: is a clock wrong?`,
      },
    ]
  })
}

function distanceToTrack({ xy }: PlanarTrack, x: number, y: number): number {
  let least = Infinity
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const distance = (xy[i]! - x) ** 2 + (xy[i + 1]! - y) ** 2
    if (distance < least) least = distance
  }
  return Math.sqrt(least)
}

/** The visit that a waypoint belongs to: those whose tracks hold its time, else those that pass near it. Places in the list. */
export function visitsOfSpot(
  { x, y, time }: Spot,
  visits: readonly (readonly PlanarTrack[])[],
  withinM: number,
): number[] {
  const numbers = visits.map((_, v) => v)
  if (time !== null) {
    const holding = numbers.filter((v) => visits[v]!.some((track) => holds(track, time)))
    if (holding.length > 0) return holding
  }
  return numbers.filter((v) => visits[v]!.some((track) => distanceToTrack(track, x, y) <= withinM))
}

function holds({ time }: PlanarTrack, t: number): boolean {
  let [first, last] = [Infinity, -Infinity]
  for (const known of time ?? []) {
    if (known < first) first = known
    if (known > last) last = known
  }
  return t >= first && t <= last
}
