import type { Polygon } from '#core/geometry'
import type { LineLookAlike, RingGap, Tone } from '#core/marks'
import type { PlanarPosition } from './survey-file.ts'

/** An outline in WGS84: a ring's, pit's or enclosure's polygon, or the line of a bank, ditch or way. */
export type MarkOutline =
  | { readonly type: 'polygon'; readonly polygon: Polygon }
  | { readonly type: 'line'; readonly xy: Float64Array }

export type MarkKind = 'ring' | 'pit' | 'line' | 'enclosure'
export type MarkState = 'candidate' | 'accepted' | 'rejected' | 'unsure'

/** One time a mark was seen on a layer. The store does not look into `view` (JSON). */
export interface MarkSighting {
  readonly layerId: number
  readonly layerName: string
  /** Day of the layer, 2026-07-02, where known. */
  readonly takenOn: string | null
  readonly view: unknown
  readonly score: number | null
  readonly falseAlarmsPerKm2: number | null
}

/** A mark as it is written. Lengths are metres in the survey's grid. */
export interface MarkFacts {
  readonly kind: MarkKind
  readonly state: MarkState
  readonly note: string | null
  readonly outline: MarkOutline
  /** Its middle, WGS84. */
  readonly lon: number
  readonly lat: number
  readonly planar: PlanarPosition | null
  readonly diameterM: number | null
  readonly ditchWidthM: number | null
  readonly tone: Tone | null
  /** 0 to 1. */
  readonly completeness: number | null
  readonly arcGaps: readonly RingGap[]
  readonly ellipticity: number | null
  readonly contrast: number | null
  readonly score: number | null
  readonly falseAlarmsPerKm2: number | null
  /** From the middle of a line to that of one that runs beside it. */
  readonly pairSpacingM: number | null
  /** What of our own day a line looks like. */
  readonly mayBe: readonly LineLookAlike[]
  /** The layer it was first seen on, which may have been removed since. */
  readonly layerId: number | null
  readonly layerName: string | null
  /** How that layer was looked at, and what was searched for: JSON. */
  readonly view: unknown
  readonly settings: unknown
  /** Where it was seen again, the latest last. */
  readonly seenAgain: readonly MarkSighting[]
  readonly madeBy: 'detector' | 'hand'
  /** True once a person has moved or resized what the detector found, or called it another kind. */
  readonly edited: boolean
}

export interface StoredMark extends MarkFacts {
  readonly id: number
  readonly uuid: string
  /** Seconds since 1970-01-01 UTC. */
  readonly madeAt: number | null
}

/** What one search changes, in one action. */
export interface MarkChanges {
  readonly add: readonly MarkFacts[]
  readonly change: readonly { readonly id: number; readonly edit: Partial<MarkFacts> }[]
  readonly remove: readonly number[]
}

export interface TargetFacts {
  readonly name: string
  readonly note: string | null
  readonly lon: number
  readonly lat: number
  readonly planar: PlanarPosition | null
  readonly markId: number | null
}

export interface StoredTarget extends TargetFacts {
  readonly id: number
  readonly uuid: string
  /** Seconds since 1970-01-01 UTC. */
  readonly madeAt: number | null
}

/** Marks and targets of a survey. Faults: SurveyError not-found, and those of `SurveyFile`. */
export interface MarksFile {
  /** In the order they came; one whose geometry another program emptied or spoilt is left out (`check` tells of it). */
  marks(): StoredMark[]
  mark(id: number): StoredMark
  /** `what` names the change for Undo. Without any change it leaves no trace. */
  changeMarks(changes: MarkChanges, what: string): StoredMark[]
  /** Its targets stay, and no longer point to it. */
  removeMark(id: number): void
  targets(): StoredTarget[]
  addTarget(target: TargetFacts): StoredTarget
  changeTarget(id: number, edit: Partial<TargetFacts>): StoredTarget
  removeTarget(id: number): void
}
