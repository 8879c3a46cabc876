import {
  type CleanSettings,
  cleanTrack,
  compareLanes,
  cutParts,
  type LaneLine,
  type LanesCompared,
  type TrackFixes,
} from '#core/track'

export interface LanesWalkedInput {
  /** In the grid of the lanes, each with how it is cleaned. */
  readonly tracks: readonly {
    readonly track: TrackFixes
    readonly clean: CleanSettings
    readonly cutDrives: boolean
  }[]
  readonly lanes: readonly LaneLine[]
  /** Metres between lanes; null where they are of no plan that tells it. */
  readonly spacingM: number | null
  /** Null for the larger of half the spacing and the median error of the fixes. */
  readonly toleranceM: number | null
}

export interface LanesWalked extends LanesCompared {
  readonly toleranceM: number
  /** Median error of the fixes along one axis, metres. */
  readonly errorM: number
  /** Interleaved pairs of each straying, and when it began and ended (seconds since 1970); null without times. */
  readonly ways: readonly {
    readonly xy: Float64Array
    readonly start: number | null
    readonly end: number | null
  }[]
}

/** Nothing is told of a lane more finely than this, metres. */
const leastToleranceM = 0.1

/** Cleans tracks and sets them against the lanes of a plan. Cost: that of cleaning and of `compareLanes`. */
export function lanesWalked({ tracks, lanes, spacingM, toleranceM }: LanesWalkedInput): LanesWalked {
  const cleaned = tracks.map(({ track, clean, cutDrives }) => {
    const whole = cleanTrack(track, clean)
    return cutDrives && whole.drives.length > 0 ? cleanTrack(cutParts(track, whole.drives), clean) : whole
  })
  const errors = Float64Array.from(cleaned.flatMap(({ errorM }) => [...errorM])).sort()
  const errorM = errors[errors.length >> 1] ?? 0
  const within = toleranceM ?? Math.max(leastToleranceM, errorM, (spacingM ?? 0) / 2)
  const compared = compareLanes(lanes, cleaned, within)
  const ways = compared.strayings.map(({ track, from, to }) => {
    const { xy, time } = cleaned[track]!
    return { xy: xy.slice(2 * from, 2 * to + 2), start: time?.[from] ?? null, end: time?.[to] ?? null }
  })
  return { ...compared, toleranceM: within, errorM, ways }
}
