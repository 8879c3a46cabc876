export { coverInThreads } from './cover-in-threads.ts'
export type { CoverInput, CoverOutcome, CoverTrack } from './cover-worker.ts'
export { exifMoment } from './exif-day.ts'
export type { WorkOptions } from './in-worker.ts'
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
export { ostn15 } from './shift-grid.ts'
