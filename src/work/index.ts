export { coverInThreads } from './cover-in-threads.ts'
export type {
  ChanceOutcome,
  ChanceWish,
  CoverInput,
  CoverOutcome,
  CoverTrack,
  TrackAccount,
  VisitWish,
} from './cover-input.ts'
export { exifMoment } from './exif-day.ts'
export { tiffHeader } from './file-bytes.ts'
export { heightsInProcess, joinedInProcess } from './heights.ts'
export { HeightsFile } from './heights-file.ts'
export type { HeightsPart } from './heights-worker.ts'
export { inWorker, type WorkOptions } from './in-worker.ts'
export type { KeptStages } from './kept-stages.ts'
export type { LanesWalked } from './lanes-walked.ts'
export { lanesWalkedInThread } from './lanes-walked-in-thread.ts'
export { linesInThreads, pitsInThreads, ringsInThreads } from './marks-in-threads.ts'
export type { FoundMarks, MarksInput } from './marks-thread.ts'
export { type PictureBlocksInput, pictureBlocks } from './picture-blocks.ts'
export { ploughBearingInThread } from './plough-in-thread.ts'
export { pictureInProcess, wholeInProcess } from './pyramid.ts'
export {
  type BlockLevel,
  blockLevels,
  blockSide,
  readBlocks,
  type Window,
  writeBlockRow,
  writeUpperLevels,
} from './pyramid-blocks.ts'
export { fileHash } from './pyramid-hash.ts'
export { mostPixels } from './pyramid-limits.ts'
export type { LookedPicture } from './pyramid-look.ts'
export { measureInThreads } from './pyramid-measure.ts'
export type { PictureForm, PicturePlanes } from './pyramid-picture.ts'
export { type PictureLevel, PictureReader } from './pyramid-reader.ts'
export { readFileInThread } from './read-file.ts'
export type { ReadOutcome } from './read-worker.ts'

export { ReliefThreads, sharedFloats } from './relief-threads.ts'
export { ostn15, ostn15Bytes } from './shift-grid.ts'

export type { VisitWalk } from './visit-walk.ts'
export { visitWalkInThread } from './visit-walk-in-thread.ts'
export { serve } from './worker-side.ts'
