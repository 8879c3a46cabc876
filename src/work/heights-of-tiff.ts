import type { Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { heightRows, readGeoTiff, whyNotUnpacked } from '#formats/geotiff'
import { nodeUnpackers, withFile } from './file-bytes.ts'
import { HeightsFile } from './heights-file.ts'
import type { ReadHeights } from './heights-of-asc.ts'
import { checkSize } from './pyramid-limits.ts'

const reading = 0.8

/**
 * Writes the first band of a TIFF as heights in a file of blocks. Held are one row of its pieces and 256 rows.
 * Faults  SurveyError 'broken-file' where nothing of it can be read, 'unsupported-feature', 'unsafe-file', 'raster-too-large', 'disk-full'.
 */
export function heightsOfTiff(
  { file, name, out }: { readonly file: string; readonly name: string; readonly out: string },
  progress: Progress,
): ReadHeights {
  return withFile(file, (bytes) => {
    const { tiff, faults } = readGeoTiff(bytes, { fileName: name })
    if (!tiff) throw new SurveyError(faults[0]!.code, faults[0]!.text)
    const { columns, rows, down } = tiff.picture
    checkSize(name, columns, rows, bytes.size)
    const why = whyNotUnpacked(tiff.picture)
    if (why) {
      const sentence = `${name} cannot be read as heights: ${why}; save it with LZW, deflate, Zstandard or no packing.`
      throw new SurveyError('unsupported-feature', sentence)
    }
    const heights = new HeightsFile(out, columns, rows)
    const trouble = { lostPieces: 0 }
    const label = `reading ${name}`
    try {
      let row = 0
      for (const part of heightRows(bytes, tiff, nodeUnpackers, trouble)) {
        heights.put(part.values)
        row += part.rows
        progress((reading * row) / rows, label)
      }
      heights.finish((done) => progress(reading + done * (1 - reading), label), label)
    } catch (error) {
      throw asSurveyError(name, error)
    } finally {
      heights.close()
    }
    const pieces = down * tiff.picture.across
    if (trouble.lostPieces === 0) return { columns, rows, faults }
    if (trouble.lostPieces >= pieces)
      throw new SurveyError(
        'broken-file',
        `${name} is damaged or cut short: none of its heights can be read; copy or export it again.`,
      )
    const text = `${name} is damaged or cut short: ${trouble.lostPieces} of its ${pieces} pieces cannot be read, and what they hold is left empty.`
    return { columns, rows, faults: [...faults, { line: null, code: 'broken-file', text }] }
  })
}

/** Pieces that are too large to be held are told by the reader. */
function asSurveyError(name: string, error: unknown): unknown {
  if (
    !(error instanceof Error) ||
    (error as { code?: unknown }).code !== 'raster-too-large' ||
    error instanceof SurveyError
  )
    return error
  return new SurveyError(
    'raster-too-large',
    `${name} cannot be read: ${error.message}; save it in tiles of 256 x 256.`,
    { cause: error },
  )
}
