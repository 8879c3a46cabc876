import type { FileFault } from '#core/faults'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from './recorded.ts'

export type FileKind = 'gpx' | 'kml' | 'kmz' | 'geojson' | 'csv' | 'shapefile'

/** All that was understood of one file, and a list of what was not. */
export interface FileContent {
  readonly kind: FileKind
  readonly tracks: readonly RecordedTrack[]
  readonly areas: readonly RecordedArea[]
  readonly findspots: readonly RecordedFindspot[]
  readonly faults: readonly FileFault[]
}
