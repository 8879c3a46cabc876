import type { CoverFigures, GridFrame } from '#contract'
import type { ChanceShares, CoverSpread, Gap } from '#core/cover'
import type { PlanarArea, Polygon } from '#core/geometry'
import type { RecordedTrack } from '#core/record'
import type { CleanedTrack, CleanSettings, FastStretch } from '#core/track'
import type { KeptStages } from './kept-stages.ts'

/** The fixes of a track as recorded, in WGS84 or in the grid of the area. */
export type CoverTrack = Pick<RecordedTrack, 'epsg' | 'xy' | 'segmentStart' | 'time'> &
  Partial<Pick<RecordedTrack, 'hdop'>>

/** What chances are worked out from; an error that is not known is 0, a coil and a rate that are not are null. */
export interface ChanceWish {
  readonly errorM: number
  readonly coilM: number | null
  readonly rateHz: number | null
  /** The instrument's own chance; 1 where absent. */
  readonly ownChance?: number
}

/** Tracks that belong together, by their place in the list, and what was swept with. Errors of different visits are independent. */
export interface VisitWish {
  readonly tracks: readonly number[]
  readonly widthM: number
  readonly chance: ChanceWish
  /** Leaves out what looks driven, whatever is asked for the others. */
  readonly cutDrives?: boolean
}

export interface CoverInput {
  readonly tracks: readonly CoverTrack[]
  /** In the planar grid that everything is worked in. */
  readonly area: PlanarArea
  readonly widthM: number
  /** Null lets the size of the area choose. */
  readonly cellM: number | null
  readonly maxJumpM: number
  readonly maxJumpS: number
  readonly minGapM2: number
  /** Asks for chances, all tracks being one visit; null where no error and no sweep are known. */
  readonly chance: ChanceWish | null
  /** Asks for chances visit by visit instead. */
  readonly visits?: readonly VisitWish[]
  /** Cleans the tracks first: cover and chances are then of the cleaned ones, each fix with its own error. */
  readonly clean?: CleanSettings | null
  /** Asks for the account of every track, cleaned or not. */
  readonly accounts?: boolean
  /** Leaves out what looks driven. */
  readonly cutDrives?: boolean
  /** Asks for the ground below this chance as polygons. */
  readonly gapChance?: number | null
  /** Asks for the spread of the covered share over simulated walks. */
  readonly spread?: { readonly simulations: number; readonly seed: number; readonly memoryS: number } | null
  /** From the last sum: stages that nothing changed for are not done again. */
  readonly kept?: KeptStages | null
  /** Threads that share the tiles, this one among them. */
  readonly threads: number
}

/** What cleaning says of one track, without its fixes. */
export type TrackAccount = Pick<
  CleanedTrack,
  'rejected' | 'breaks' | 'stops' | 'drives' | 'distanceM' | 'walkingS' | 'stoppedS' | 'notes'
> & {
  /** Stretches walked faster than the coil can follow; null where coil, rate or times are not known. */
  readonly fast: readonly FastStretch[] | null
}

/** The surface of chances over the area. */
export interface ChanceOutcome extends ChanceShares {
  readonly frame: GridFrame
  /** 0 to 1 a cell, NaN outside the area; row 0 is the northernmost. Stands on shared memory. */
  readonly chance: Float32Array
  /** What each visit comes to on its own. */
  readonly byVisit: readonly ChanceShares[]
  /** Ground below the chance asked for, largest first, and the same on WGS84; null where none was asked for. */
  readonly gaps: readonly Gap[] | null
  readonly gapsOnWgs84: readonly Polygon[] | null
}

export interface CoverOutcome {
  readonly frame: GridFrame
  readonly figures: CoverFigures
  readonly gaps: readonly Gap[]
  /** The polygons of `gaps`, in the same order, on WGS84. */
  readonly gapsOnWgs84: readonly Polygon[]
  /** Passes a cell, 255 outside the area; row 0 is the northernmost. Stands on shared memory. */
  readonly passes: Uint8Array
  /** The same, deflated. */
  readonly deflated: Uint8Array
  readonly chance: ChanceOutcome | null
  readonly spread: CoverSpread | null
  /** One for each track where the tracks were cleaned or their speeds asked for, else empty. */
  readonly accounts: readonly TrackAccount[]
  /** To be handed to the next sum as `kept`. */
  readonly kept: KeptStages
  /** Stages that had to be done. */
  readonly done: readonly string[]
}
