export type { FileContent, FileKind } from './file-content.ts'
export type { ExtraSeries, RecordedArea, RecordedFind, RecordedFindspot, RecordedTrack } from './recorded.ts'
