import { closeSync, openSync, readSync, statSync } from 'node:fs'
import path from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { SurveyError } from '#core/faults'
import type { PhotographToAdd, StoredPhotograph } from '#store'
import { exifMoment, fileHash } from '#work'
import { movedInto, whereIs } from '../layers/layer-files.ts'

/** A picture of a find has no need of more, and a phone writes a tenth of it. */
const mostBytes = 100 * 2 ** 20
const mostPixels = 250_000_000
const thumbnailSide = 480
const screenSide = 2600
const kinds: ReadonlySet<string> = new Set(['jpeg', 'png', 'webp', 'tiff'])
/** Brands of ISO base media files (ISO/IEC 14496-12) that hold HEVC pictures (ISO/IEC 23008-12). */
const heicBrands: ReadonlySet<string> = new Set([
  'heic',
  'heix',
  'hevc',
  'hevx',
  'heim',
  'heis',
  'mif1',
  'msf1',
])

/** The folder beside a survey that keeps what was dropped on the desk. */
export function photographsFolder(surveyPath: string): string {
  const stem = path.basename(surveyPath, path.extname(surveyPath))
  return path.join(path.dirname(surveyPath), `${stem}-photographs`)
}

function firstBytes(file: string): Buffer {
  const bytes = Buffer.alloc(12)
  const handle = openSync(file, 'r')
  try {
    readSync(handle, bytes, 0, 12, 0)
  } finally {
    closeSync(handle)
  }
  return bytes
}

/** Faults: SurveyError 'file-too-large', 'unsupported-feature'. */
function assertPicture(name: string, file: string): number {
  const { size } = statSync(file)
  if (size > mostBytes) {
    throw new SurveyError(
      'file-too-large',
      `${name} has ${Math.round(size / 2 ** 20)} MiB, more than the ${mostBytes / 2 ** 20} MiB of the largest picture taken: save a smaller copy as JPEG and bring that in.`,
    )
  }
  const head = firstBytes(file)
  if (head.toString('latin1', 4, 8) === 'ftyp' && heicBrands.has(head.toString('latin1', 8, 12))) {
    throw new SurveyError(
      'unsupported-feature',
      `${name} is a HEIC picture, which cannot be read here: export it as JPEG, or set the phone's camera to its most compatible format, and bring the JPEG in.`,
    )
  }
  return size
}

/** What is known of a picture, with its thumbnail; it is not moved. Faults: also 'unknown-kind', 'broken-file'. */
export async function lookAtPhotograph(
  name: string,
  file: string,
): Promise<
  Pick<
    PhotographToAdd,
    'sha256' | 'size' | 'width' | 'height' | 'orientation' | 'takenAt' | 'exif' | 'thumbnail'
  >
> {
  const size = assertPicture(name, file)
  const sha256 = await fileHash(file)
  const open = () => sharp(file, { limitInputPixels: mostPixels, failOn: 'error' })
  const metadata = await open()
    .metadata()
    .catch((cause: unknown) => {
      throw new SurveyError(
        'unknown-kind',
        `${name} is no picture that can be read: bring in a JPEG, PNG, WebP or TIFF.`,
        { cause },
      )
    })
  if (!kinds.has(metadata.format ?? '')) {
    throw new SurveyError('unknown-kind', `${name} is no JPEG, PNG, WebP or TIFF: save it as one of these.`)
  }
  const orientation = metadata.orientation ?? 1
  const lies = orientation >= 5
  const thumbnail = await upright(open(), thumbnailSide)
    .toBuffer()
    .catch((cause: unknown) => {
      throw new SurveyError(
        'broken-file',
        `${name} is damaged or too large to be drawn; nothing was changed.`,
        {
          cause,
        },
      )
    })
  return {
    sha256,
    size,
    width: lies ? metadata.height : metadata.width,
    height: lies ? metadata.width : metadata.height,
    orientation,
    takenAt: metadata.exif ? exifMoment(metadata.exif) : null,
    exif: metadata.exif ? new Uint8Array(metadata.exif) : null,
    thumbnail: new Uint8Array(thumbnail),
  }
}

/** Upright, no larger than `side`, as a JPEG that carries nothing of what the camera wrote: sharp leaves metadata out unless told. */
function upright(picture: Sharp, side: number): Sharp {
  return picture
    .rotate()
    .resize(side, side, { fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: 84, mozjpeg: false })
}

/** Moves a picture into the folder beside the survey, and says where it lies. Faults: 'disk-full', 'cannot-write'. */
export function keepBeside(
  surveyPath: string,
  name: string,
  file: string,
): Pick<PhotographToAdd, 'path' | 'relativePath'> {
  const full = movedInto(photographsFolder(surveyPath), file, name)
  const way = path.relative(path.dirname(path.resolve(surveyPath)), full)
  return { path: full, relativePath: path.isAbsolute(way) ? null : way.split(path.sep).join('/') }
}

/** Where a photograph's file is now; null where it is gone or its bytes are inside. */
export function photographFile(surveyPath: string, photograph: StoredPhotograph): string | null {
  const { path: seen, name, relativePath, size } = photograph
  return seen === null ? null : whereIs(surveyPath, { name, path: seen, relativePath, size })
}

/** The picture as large as a screen, JPEG. Faults: SurveyError 'broken-file'. */
export async function screenPicture(name: string, source: string | Uint8Array): Promise<Uint8Array> {
  try {
    return new Uint8Array(
      await upright(sharp(source, { limitInputPixels: mostPixels }), screenSide).toBuffer(),
    )
  } catch (cause) {
    throw new SurveyError('broken-file', `${name} can no longer be drawn: its file is damaged.`, { cause })
  }
}
