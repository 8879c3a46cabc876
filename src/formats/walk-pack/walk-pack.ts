import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'

/** What a pack says of one of its pictures. It lies north up in the grid `epsg`, whose metres are told; longitudes and latitudes of its corners besides. */
export interface PictureFacts {
  /** Its name in the archive. */
  readonly file: string
  readonly name: string
  /** 2026-07-02, where known. */
  readonly takenOn: string | null
  readonly attribution: string | null
  readonly mediaType: 'image/jpeg' | 'image/png'
  readonly columns: number
  readonly rows: number
  readonly epsg: number
  /** Of the outer corner of its upper left pixel. */
  readonly west: number
  readonly north: number
  readonly pixelWidthM: number
  readonly pixelHeightM: number
  /** North-west, north-east, south-east and south-west outer corners, longitude and latitude in WGS84. */
  readonly corners: readonly (readonly [lon: number, lat: number])[]
}

export interface PackPicture extends PictureFacts {
  readonly bytes: Uint8Array
}

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
  /** Left out where there are none. */
  readonly pictures?: readonly PictureFacts[]
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
  readonly pictures: readonly PackPicture[]
}
