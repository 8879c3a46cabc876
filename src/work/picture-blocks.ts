import type { Progress } from '#contract'
import { type PixelValue, pixelValues } from '#core/imagery'
import { HeightsFile } from './heights-file.ts'
import { blockSide } from './pyramid-blocks.ts'
import type { PicturePlanes } from './pyramid-picture.ts'
import { PictureReader } from './pyramid-reader.ts'

export interface PictureBlocksInput {
  /** Where the planes lie. */
  readonly folder: string
  readonly planes: PicturePlanes
  readonly noData: number | null
  readonly value: PixelValue
  /** The file to be written. */
  readonly out: string
}

/**
 * Writes one number a pixel of a picture that was made ready in full as a file of blocks, at every scale; NaN where it holds nothing. Memory: 256 rows of it.
 * Faults: RangeError where only an overview was made, or the picture has no such value; SurveyError 'disk-full'.
 */
export async function pictureBlocks(
  { folder, planes, noData, value, out }: PictureBlocksInput,
  progress: Progress,
): Promise<void> {
  if (!planes.whole) throw new RangeError('values are taken from the whole picture')
  const reader = await PictureReader.open(folder, planes, noData)
  const { columns, rows } = reader
  const label = 'taking the values of the picture'
  const file = new HeightsFile(out, columns, rows)
  try {
    for (let top = 0; top < rows; top += blockSide) {
      const height = Math.min(blockSide, rows - top)
      const bands = await reader.read(0, { left: 0, top, width: columns, height })
      file.put(pixelValues(bands, value))
      progress((0.9 * (top + height)) / rows, label)
    }
    file.finish((done) => progress(0.9 + 0.1 * done, label), label)
  } finally {
    file.close()
  }
}
