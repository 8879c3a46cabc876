import { SurveyError } from '#core/faults'

/**
 * Most pixels of one picture or terrain model: 50,000 x 50,000. They are never held at once (what is worked on is a strip of rows),
 * so the limit is one of time and disk: a picture of that size takes some 10 GB in the cache.
 */
export const mostPixels = 2_500_000_000
/** Longest side. A row is held whole; this keeps it below 10 MB for each byte of a pixel. */
const longestSide = 1_000_000
/** A picture this large is asked whether its bytes can hold it: the densest packing of the formats, deflate, makes 1032 of one. */
const bombPixels = 50_000_000
const mostPixelsPerByte = 4000

/**
 * Refuses a picture whose header claims more than can be worked with or more than its bytes can hold.
 * Faults: SurveyError 'raster-too-large', 'unsafe-file'.
 */
export function checkSize(name: string, columns: number, rows: number, bytes: number): void {
  const pixels = columns * rows
  if (pixels > bombPixels && pixels > bytes * mostPixelsPerByte) {
    throw new SurveyError(
      'unsafe-file',
      `${name} claims ${columns} x ${rows} pixels in ${bytes} bytes, which cannot be; do not trust the file, get it again from its source.`,
    )
  }
  if (columns > longestSide || rows > longestSide || pixels > mostPixels) {
    throw new SurveyError(
      'raster-too-large',
      `${name} has ${columns} x ${rows} pixels, more than can be worked with (50,000 x 50,000); cut it into parts, or save it at half the resolution.`,
    )
  }
}
