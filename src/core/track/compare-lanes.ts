import type { CleanedTrack } from './cleaned-track.ts'
import { driven } from './find-stops.ts'
import type { PlanarTrack } from './planar-track.ts'

/** A planned lane: interleaved easting, northing of its corners; metres, in the grid of the tracks. */
export type LaneLine = Float64Array

/** How a planned lane was walked. */
export interface LaneWalked {
  /** Place of the lane in the plan. */
  readonly lane: number
  readonly lengthM: number
  /** Length of it that a track ran along within the tolerance. */
  readonly walkedM: number
  /** 'walked' for nine tenths of it or more, 'skipped' for less than a tenth, else 'part'. */
  readonly state: 'walked' | 'part' | 'skipped'
  /** Parts of it that no track ran along, from its beginning, metres. */
  readonly missed: readonly { readonly fromM: number; readonly toM: number }[]
}

/** A stretch of a track that ran beside the plan. Fixes, both included. */
export interface Straying {
  readonly track: number
  readonly from: number
  readonly to: number
  readonly metres: number
  /** Farthest that some 20 of its fixes lay from the nearest lane, metres. */
  readonly offM: number
}

export interface LanesCompared {
  readonly lanes: readonly LaneWalked[]
  readonly strayings: readonly Straying[]
  readonly walkedM: number
  readonly plannedM: number
  /** Median distance of the fixes on lanes from them, metres; null where none was on one. */
  readonly offM: number | null
}

/** A lane counts as walked from this share of its length up, and as skipped below the other (our own choice). */
const walkedShare = 0.9
const skippedShare = 0.1
/** Lanes are looked at in pieces of this share of the tolerance. */
const piecesPerTolerance = 2
/** A way counts as straying from this length up, in tolerances: turns at the ends of lanes do not. */
const leastStraying = 6
/** Walking across a lane is not walking along it: the angle between them is at most this. */
const steepest = Math.cos(Math.PI / 4)

/**
 * Sets cleaned tracks against the lanes of a plan: which were walked, which skipped, and where the walker strayed from all of them. A place
 * of a lane was walked where a leg passes within `toleranceM` of it at less than 45 degrees to it, in either direction.
 *
 * Cost  legs times the pieces of lane near them, found by a grid of squares.
 * Faults  RangeError unless the tolerance is above zero.
 */
export function compareLanes(
  lanes: readonly LaneLine[],
  tracks: readonly (PlanarTrack & Partial<Pick<CleanedTrack, 'state'>>)[],
  toleranceM: number,
): LanesCompared {
  if (!(toleranceM > 0 && Number.isFinite(toleranceM)))
    throw new RangeError(`a tolerance is above 0 m, got ${toleranceM}`)
  const pieces = piecesOf(lanes, toleranceM / piecesPerTolerance)
  // What lies within the tolerance of a step of that length is within one and a half of its middle: one square to each side.
  const squares = squaresOf(pieces, 1.5 * toleranceM)
  const walked = new Uint8Array(pieces.lane.length)
  const strayings: Straying[] = []
  const offs: number[] = []
  for (const [t, track] of tracks.entries())
    compareTrack(pieces, squares, track, t, toleranceM, walked, strayings, offs)
  const compared = lanes.map((_, lane) => laneWalked(pieces, lane, walked))
  offs.sort((a, b) => a - b)
  return {
    lanes: compared,
    strayings,
    walkedM: compared.reduce((sum, lane) => sum + lane.walkedM, 0),
    plannedM: compared.reduce((sum, lane) => sum + lane.lengthM, 0),
    offM: offs[offs.length >> 1] ?? null,
  }
}

/** Short pieces of all lanes: their middles, directions, and where on the lane they lie. */
interface Pieces {
  readonly lane: number[]
  readonly x: number[]
  readonly y: number[]
  readonly dirX: number[]
  readonly dirY: number[]
  readonly fromM: number[]
  readonly lengthM: number[]
}

function piecesOf(lanes: readonly LaneLine[], most: number): Pieces {
  const pieces: Pieces = { lane: [], x: [], y: [], dirX: [], dirY: [], fromM: [], lengthM: [] }
  for (const [lane, xy] of lanes.entries()) {
    let at = 0
    for (let i = 0; i + 3 < xy.length; i += 2) {
      const [dx, dy] = [xy[i + 2]! - xy[i]!, xy[i + 3]! - xy[i + 1]!]
      const length = Math.hypot(dx, dy)
      if (!(length > 0 && Number.isFinite(length))) continue
      const count = Math.ceil(length / most)
      for (let k = 0; k < count; k++) {
        pieces.lane.push(lane)
        pieces.x.push(xy[i]! + (dx * (k + 0.5)) / count)
        pieces.y.push(xy[i + 1]! + (dy * (k + 0.5)) / count)
        pieces.dirX.push(dx / length)
        pieces.dirY.push(dy / length)
        pieces.fromM.push(at + (length * k) / count)
        pieces.lengthM.push(length / count)
      }
      at += length
    }
  }
  return pieces
}

/** Pieces by the square that their middle lies in; a square's key is a whole number. */
interface Squares {
  readonly side: number
  readonly held: ReadonlyMap<number, readonly number[]>
}

/** More rows than any grid has squares from south to north. */
const mostRows = 2 ** 26
const keyAt = (column: number, row: number): number => column * mostRows + row

function squaresOf({ x, y }: Pieces, side: number): Squares {
  const held = new Map<number, number[]>()
  for (let p = 0; p < x.length; p++) {
    const key = keyAt(Math.floor(x[p]! / side), Math.floor(y[p]! / side))
    const square = held.get(key)
    if (square === undefined) held.set(key, [p])
    else square.push(p)
  }
  return { side, held }
}

function compareTrack(
  pieces: Pieces,
  squares: Squares,
  track: PlanarTrack & Partial<Pick<CleanedTrack, 'state'>>,
  t: number,
  toleranceM: number,
  walked: Uint8Array,
  strayings: Straying[],
  offs: number[],
): void {
  const { xy, segmentStart, state } = track
  const found: number[] = []
  let straying: { from: number; to: number; metres: number } | null = null
  const finish = (): void => {
    if (straying !== null && straying.metres >= leastStraying * toleranceM)
      strayings.push({ track: t, ...straying, offM: farthestOff(pieces, xy, straying.from, straying.to) })
    straying = null
  }
  for (let i = 0, next = 0; i + 3 < xy.length; i += 2) {
    const fix = i >> 1
    while (next < segmentStart.length && segmentStart[next]! <= fix) next++
    const [dx, dy] = [xy[i + 2]! - xy[i]!, xy[i + 3]! - xy[i + 1]!]
    const length = Math.hypot(dx, dy)
    if (segmentStart[next] === fix + 1 || !Number.isFinite(length) || state?.[fix] === driven) {
      finish()
      continue
    }
    if (length === 0) continue
    // A long leg is taken in steps, so that the squares about each step hold all pieces within the tolerance.
    const steps = Math.max(1, Math.ceil(length / toleranceM))
    let least = Infinity
    let onLane = false
    for (let k = 0; k < steps; k++) {
      const place = [xy[i]! + (dx * (k + 0.5)) / steps, xy[i + 1]! + (dy * (k + 0.5)) / steps] as const
      for (const p of near(squares, place[0], place[1], found)) {
        const off = fromLeg(pieces.x[p]! - xy[i]!, pieces.y[p]! - xy[i + 1]!, dx, dy)
        const along = Math.abs(pieces.dirX[p]! * dx + pieces.dirY[p]! * dy) / length
        if (off < least) least = off
        if (off > toleranceM || along < steepest) continue
        walked[p] = 1
        onLane = true
      }
    }
    if (onLane) {
      offs.push(least)
      finish()
    } else {
      straying ??= { from: fix, to: fix, metres: 0 }
      straying = { from: straying.from, to: fix + 1, metres: straying.metres + length }
    }
  }
  finish()
}

/** The pieces in the square of a place and those about it, put into `found`. */
function near({ side, held }: Squares, x: number, y: number, found: number[]): readonly number[] {
  const [column, row] = [Math.floor(x / side), Math.floor(y / side)]
  found.length = 0
  for (let c = column - 1; c <= column + 1; c++)
    for (let r = row - 1; r <= row + 1; r++)
      for (const piece of held.get(keyAt(c, r)) ?? []) found.push(piece)
  return found
}

function fromLeg(px: number, py: number, dx: number, dy: number): number {
  const along = Math.max(0, Math.min(1, (px * dx + py * dy) / (dx * dx + dy * dy)))
  return Math.hypot(px - along * dx, py - along * dy)
}

/** How many fixes of a stretch are looked at for the farthest. */
const looks = 20

/** The farthest that fixes of a stretch lie from the nearest lane. */
function farthestOff({ x, y }: Pieces, xy: Float64Array, from: number, to: number): number {
  let farthest = 0
  const step = Math.max(1, Math.floor((to - from) / looks))
  for (let fix = from; fix <= to; fix += step) {
    let least = Infinity
    for (let p = 0; p < x.length; p++)
      least = Math.min(least, (x[p]! - xy[2 * fix]!) ** 2 + (y[p]! - xy[2 * fix + 1]!) ** 2)
    farthest = Math.max(farthest, Math.sqrt(least))
  }
  return farthest
}

function laneWalked(pieces: Pieces, lane: number, walked: Uint8Array): LaneWalked {
  let [lengthM, walkedM] = [0, 0]
  const missed: { fromM: number; toM: number }[] = []
  for (let p = 0; p < pieces.lane.length; p++) {
    if (pieces.lane[p] !== lane) continue
    const piece = pieces.lengthM[p]!
    lengthM += piece
    if (walked[p] === 1) {
      walkedM += piece
      continue
    }
    const last = missed.at(-1)
    const fromM = pieces.fromM[p]!
    if (last !== undefined && Math.abs(last.toM - fromM) < 1e-6) last.toM = fromM + piece
    else missed.push({ fromM, toM: fromM + piece })
  }
  const share = lengthM > 0 ? walkedM / lengthM : 0
  const state = share >= walkedShare ? 'walked' : share < skippedShare ? 'skipped' : 'part'
  return { lane, lengthM, walkedM, state, missed }
}
