import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'

/** What a pack says of itself, in `pack.json`. Texts that are not known are null. */
export interface PackManifest {
  readonly format: 'lynchet-walk-pack'
  readonly version: 1
  readonly survey: { readonly uuid: string; readonly code: string; readonly title: string }
  readonly plan: string
  readonly area: string
  /** ISO 8601 UTC. */
  readonly madeAt: string
  /** Metres between lanes, and how far lanes go together. */
  readonly spacingM: number | null
  readonly lengthM: number
  readonly walkers: number
}

/** What goes out to the field. Positions in WGS84. */
export interface WalkPack {
  readonly manifest: PackManifest
  readonly area: readonly RecordedArea[]
  /** In the order of the walk, walker by walker. */
  readonly lanes: readonly RecordedTrack[]
  readonly targets: readonly RecordedFindspot[]
  readonly constraints: {
    readonly areas: readonly RecordedArea[]
    readonly tracks: readonly RecordedTrack[]
    readonly findspots: readonly RecordedFindspot[]
  }
  /** What is to be minded, one sentence each; the plan's own clashes first. */
  readonly cautions: readonly string[]
}
