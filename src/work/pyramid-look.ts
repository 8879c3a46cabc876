import { stat } from 'node:fs/promises'
import sharp, { type Metadata } from 'sharp'
import type { Progress } from '#contract'
import { isSurveyError, SurveyError } from '#core/faults'
import { exifDay } from './exif-day.ts'
import { plainPicture } from './plain-picture.ts'
import { fileHash } from './pyramid-hash.ts'
import { checkSize } from './pyramid-limits.ts'
import { makePlanes, type PictureForm, type PicturePlanes } from './pyramid-picture.ts'

/** A picture looked at once: what it is, its hash, and an overview of it (or the whole, of a small one). */
export interface LookedPicture {
  readonly format: 'jpeg' | 'png' | 'tiff'
  readonly form: PictureForm
  readonly takenOn: string | null
  readonly sha256: string
  /** Bytes. */
  readonly size: number
  readonly planes: PicturePlanes
  /** What is wrong with it, as a sentence, where only a part could be read. */
  readonly damage: string | null
}

export interface LookInput {
  readonly file: string
  readonly name: string
  /** Where the overview is to be written. */
  readonly folder: string
}

const formats = { jpeg: 'jpeg', png: 'png', tiff: 'tiff' } as const

/** Depths as libvips calls them, that a picture is kept in. */
const sampleTypes: Readonly<Record<string, PictureForm['sampleType']>> = { uchar: 'uint8', ushort: 'uint16' }

/**
 * Looks at a JPEG or PNG picture, or a TIFF of plain colours. The hash is worked out while the overview is made.
 * Faults: SurveyError 'broken-file', 'unsafe-file', 'raster-too-large', 'unsupported-feature', 'disk-full', 'cannot-write'.
 */
export async function lookAtPicture(
  { file, name, folder }: LookInput,
  progress: Progress,
): Promise<LookedPicture> {
  const { size } = await stat(file)
  const header = await headerOf(file, name)
  const { width, height } = header
  checkSize(name, width, height, size)
  const format = formats[header.format as keyof typeof formats]
  const plain = format === 'tiff' ? await plainPicture({ file, name, folder }, progress) : null
  if (format && plain) {
    const { form, sources, damage } = plain
    const make = { folder, whole: false, opening: { failOn: 'error' }, sources } as const
    const [sha256, planes] = await Promise.all([fileHash(file), makePlanes(file, name, form, make, progress)])
    return { format, form, takenOn: null, sha256, size, planes, damage }
  }
  const sampleType = sampleTypes[header.depth]
  if (!format || !sampleType) {
    const sentence = `${name} holds values of the kind ${header.depth}, which cannot be shown as a picture; save it with 8 or 16 bits a colour.`
    throw new SurveyError('unsupported-feature', sentence)
  }
  const form: PictureForm = {
    columns: width,
    rows: height,
    sampleType,
    ...channelsOf(header),
    orientation: turnOf(header, format),
  }
  const [sha256, { planes, damage }] = await Promise.all([
    fileHash(file),
    overviewOf({ file, name, folder }, form, format, progress),
  ])
  const takenOn = header.exif ? exifDay(header.exif) : null
  return { format, form, takenOn, sha256, size, planes, damage }
}

async function headerOf(file: string, name: string): Promise<Metadata> {
  try {
    return await sharp(file, { limitInputPixels: false }).metadata()
  } catch (cause) {
    const reason = (cause instanceof Error ? cause.message : String(cause)).split('\n')[0]
    const sentence = `${name} is damaged: its header cannot be read (${reason}); copy or export it again.`
    throw new SurveyError('broken-file', sentence, { cause })
  }
}

/** Print colours become red, green and blue on the way; everything else keeps its channels. */
function channelsOf({ space, channels, hasAlpha }: Metadata): { channels: number; alpha: boolean } {
  if (space === 'cmyk') return { channels: 3, alpha: false }
  return { channels, alpha: hasAlpha }
}

/** Turning needs the whole picture in memory, so it is only done for such sizes as cameras have. */
const mostTurned = 150_000_000

function turnOf({ orientation = 1, width, height }: Metadata, format: LookedPicture['format']): number {
  return format === 'tiff' || orientation > 8 || width * height > mostTurned ? 1 : orientation
}

/** What stands before damage is shown: a picture that cannot be read strictly is tried once more, taking what can be had. */
async function overviewOf(
  { file, name, folder }: LookInput,
  form: PictureForm,
  format: LookedPicture['format'],
  progress: Progress,
): Promise<{ planes: PicturePlanes; damage: string | null }> {
  const make = (failOn: 'error' | 'warning' | 'none') =>
    makePlanes(file, name, form, { folder, whole: false, opening: { failOn } }, progress)
  try {
    return { planes: await make(format === 'tiff' ? 'warning' : 'error'), damage: null }
  } catch (error) {
    if (!isSurveyError(error) || error.code !== 'broken-file') throw error
    const planes = await make('none').catch(() => {
      throw error
    })
    const reason = /\((.*)\)/.exec(error.message)?.[1] ?? 'unreadable in part'
    return {
      planes,
      damage: `${name} is damaged or cut short (${reason}); what could be read of it is shown.`,
    }
  }
}
