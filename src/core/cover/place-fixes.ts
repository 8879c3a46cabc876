import type { LatticeFrame } from '#core/raster'
import { loneFix, type PlanarTrack, type SweptLegs, sweptStep } from '#core/track'
import { sharedBytes } from './lattice.ts'

/** Fixes of all tracks by their place on the lattice, one after another. */
export interface PlacedFixes {
  /** Whole columns east and whole rows north of the frame's south-west corner, and the fractions beyond them. */
  readonly column: Int32Array
  readonly row: Int32Array
  readonly east: Float64Array
  readonly north: Float64Array
  /** As in `SweptLegs.kind`. */
  readonly kind: Uint8Array
  /** First fix of each track, and past the last. */
  readonly trackStart: Uint32Array
  /** For each `chunk` of fixes: least column, least row, greatest column, greatest row that its legs reach into. */
  readonly reach: Int32Array
}

/** Fixes a chunk: legs are passed over a chunk at a time where none of them reaches a tile. */
export const chunk = 64
/** Farther than this from the frame, in cells, a fix is beyond all reach and is left out. */
const farthest = 2 ** 30

/** Places the fixes of tracks, whose legs are given in the same order, for a swath of `radius` cells on either side. */
export function placeFixes(
  tracks: readonly PlanarTrack[],
  legsOfTracks: readonly Pick<SweptLegs, 'kind'>[],
  frame: LatticeFrame,
  radius: number,
): PlacedFixes {
  const trackStart = new Uint32Array(tracks.length + 1)
  for (let t = 0; t < tracks.length; t++) trackStart[t + 1] = trackStart[t]! + (tracks[t]!.xy.length >> 1)
  const count = trackStart[tracks.length]!
  const fixes: PlacedFixes = {
    column: new Int32Array(sharedBytes(4 * count)),
    row: new Int32Array(sharedBytes(4 * count)),
    east: new Float64Array(sharedBytes(8 * count)),
    north: new Float64Array(sharedBytes(8 * count)),
    kind: new Uint8Array(sharedBytes(count)),
    trackStart,
    reach: new Int32Array(sharedBytes(16 * Math.ceil(count / chunk))),
  }
  for (let t = 0; t < tracks.length; t++)
    placeTrack(fixes, trackStart[t]!, tracks[t]!.xy, legsOfTracks[t]!.kind, frame)
  measureReach(fixes, Math.ceil(radius) + 1)
  return fixes
}

function placeTrack(
  fixes: PlacedFixes,
  at: number,
  xy: Float64Array,
  legKind: Uint8Array,
  frame: LatticeFrame,
): void {
  const { column, row, east, north, kind } = fixes
  const { cellM, column0, row0 } = frame
  for (let i = 0; i < legKind.length; i++) {
    const u = xy[2 * i]! / cellM
    const v = xy[2 * i + 1]! / cellM
    const c = Math.floor(u)
    const r = Math.floor(v)
    if (Math.abs(c - column0) < farthest && Math.abs(r - row0) < farthest) {
      column[at + i] = c - column0
      row[at + i] = r - row0
      east[at + i] = u - c
      north[at + i] = v - r
      kind[at + i] = legKind[i]!
    } else if (i > 0) kind[at + i - 1]! &= ~sweptStep
  }
}

/** The rectangle of cells that each chunk's legs and lone fixes may touch; upside down for a chunk without any. */
function measureReach({ column, row, kind, reach }: PlacedFixes, margin: number): void {
  for (let at = 0; at < kind.length; at += chunk) {
    let [minColumn, minRow, maxColumn, maxRow] = [farthest, farthest, -farthest, -farthest]
    const end = Math.min(kind.length, at + chunk)
    for (let i = at; i < end; i++) {
      if (kind[i] === 0) continue
      const last = kind[i] === loneFix ? i : i + 1
      for (let k = i; k <= last; k++) {
        if (column[k]! < minColumn) minColumn = column[k]!
        if (column[k]! > maxColumn) maxColumn = column[k]!
        if (row[k]! < minRow) minRow = row[k]!
        if (row[k]! > maxRow) maxRow = row[k]!
      }
    }
    reach.set([minColumn - margin, minRow - margin, maxColumn + margin, maxRow + margin], (at / chunk) * 4)
  }
}
