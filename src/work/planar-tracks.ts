import { planarGrid } from '#core/geodesy'
import type { Polygon } from '#core/geometry'
import {
  type CleanedTrack,
  type CleanSettings,
  cleanTrack,
  cutParts,
  defaultCleanSettings,
  fastStretches,
  safeSpeed,
  type TrackFixes,
} from '#core/track'
import type { ChanceWish, CoverTrack, TrackAccount } from './cover-input.ts'
import { ostn15 } from './shift-grid.ts'

/** A track in the grid that everything is worked in. */
export function planarTrack(
  { epsg: from, xy, segmentStart, time, hdop = null }: CoverTrack,
  epsg: number,
): TrackFixes {
  if (from === epsg) return { epsg, xy, segmentStart, time, hdop }
  const planar = new Float64Array(xy.length)
  planarGrid(epsg, ostn15()).forward(xy, planar)
  return { epsg, xy: planar, segmentStart, time, hdop }
}

export function polygonOnWgs84({ rings }: Polygon, epsg: number): Polygon {
  const grid = planarGrid(epsg, ostn15())
  return {
    rings: rings.map((ring) => {
      const lonLat = new Float64Array(ring.length)
      grid.inverse(ring, lonLat)
      return lonLat
    }),
  }
}

/** A track ready for cover and chances, with what cleaning said of it. */
export interface ReadyTrack {
  readonly track: TrackFixes
  /** Error of each fix, metres, where the track was cleaned. */
  readonly errorM: Float64Array | null
  readonly account: TrackAccount | null
}

export interface ReadyWish {
  readonly clean: CleanSettings | null
  readonly cutDrives: boolean
  readonly accounts: boolean
  readonly chance: ChanceWish | null
}

/** Cleans a track, cuts what was driven, and looks for stretches walked too fast, as far as each was asked for. */
export function readyTrack(track: TrackFixes, { clean, cutDrives, accounts, chance }: ReadyWish): ReadyTrack {
  const speeds = chance?.coilM != null && chance.rateHz !== null
  if (clean === null && !cutDrives && !speeds && !accounts) return { track, errorM: null, account: null }
  const settings = clean ?? {
    ...defaultCleanSettings,
    ...(chance && chance.errorM > 0 ? { errorM: chance.errorM } : {}),
  }
  let fixes = track
  let cleaned = cleanTrack(fixes, settings)
  const { drives } = cleaned
  if (cutDrives && drives.length > 0) {
    fixes = cutParts(fixes, drives)
    cleaned = { ...cleanTrack(fixes, settings), drives }
  }
  const account = accountOf(cleaned, speeds ? safeSpeed(chance!.coilM!, chance!.rateHz!) : null)
  if (clean === null) return { track: fixes, errorM: null, account }
  const { epsg, xy, segmentStart, time, errorM } = cleaned
  return { track: { epsg, xy, segmentStart, time }, errorM, account }
}

function accountOf(cleaned: CleanedTrack, safeMS: number | null): TrackAccount {
  const { rejected, breaks, stops, drives, distanceM, walkingS, stoppedS, notes, time } = cleaned
  const fast = safeMS === null || time === null ? null : fastStretches(cleaned, safeMS)
  return { rejected, breaks, stops, drives, distanceM, walkingS, stoppedS, notes, fast }
}
