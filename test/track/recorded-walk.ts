import { normal, seededRandom } from '#core/random'
import type { PlanarTrack } from '#core/track'

export interface WalkWanted {
  readonly seconds: number
  readonly everyS?: number
  readonly speedMS?: number
  /** Standard deviation of the noise that each fix has of its own, metres. */
  readonly noiseM?: number
  readonly seed?: number
  /** From and to, in seconds: the walker stands still. */
  readonly stops?: readonly (readonly [number, number])[]
}

const startS = 1.78e9

/** A walk in lanes of 60 m, 2 m apart, on open ground: one piece, timed. The noise is independent from fix to fix. */
export function recordedWalk(wanted: WalkWanted): PlanarTrack {
  const { seconds, everyS = 1, speedMS = 0.5, noiseM = 0.3, seed = 1, stops = [] } = wanted
  const random = seededRandom(seed)
  const fixes = Math.floor(seconds / everyS) + 1
  const xy = new Float64Array(2 * fixes)
  const time = new Float64Array(fixes)
  let walked = 0
  for (let i = 0; i < fixes; i++) {
    const t = i * everyS
    const lane = Math.floor(walked / 60)
    const along = walked - 60 * lane
    xy[2 * i] = 561_000 + 2 * lane + noiseM * normal(random)
    xy[2 * i + 1] = 342_000 + (lane % 2 === 0 ? along : 60 - along) + noiseM * normal(random)
    time[i] = startS + t
    if (!stops.some(([from, to]) => t >= from && t < to)) walked += speedMS * everyS
  }
  return { epsg: 27700, xy, segmentStart: Uint32Array.of(0), time }
}

/** The same track with one number of each fix changed; the arrays are new. */
export function withFixes(
  track: PlanarTrack,
  change: (
    fix: { x: number; y: number; t: number },
    i: number,
  ) => Partial<{ x: number; y: number; t: number }>,
): PlanarTrack {
  const xy = track.xy.slice()
  const time = track.time!.slice()
  for (let i = 0; i < time.length; i++) {
    const fix = { x: xy[2 * i]!, y: xy[2 * i + 1]!, t: time[i]! }
    const { x, y, t } = { ...fix, ...change(fix, i) }
    xy[2 * i] = x
    xy[2 * i + 1] = y
    time[i] = t
  }
  return { ...track, xy, time }
}
