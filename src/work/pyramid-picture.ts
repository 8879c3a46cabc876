import path from 'node:path'
import sharp, { type Sharp } from 'sharp'
import type { Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { mostPixels } from './pyramid-limits.ts'

/** One file of a pyramid: some bands of the picture side by side, and their alpha behind them where `alpha`. */
export interface PicturePlane {
  readonly file: string
  readonly channels: number
  readonly alpha: boolean
}

/** A picture ready to be shown. Bands go through the planes in order; a plane of alpha alone counts for all. */
export interface PicturePlanes {
  /** Of the whole picture, upright. */
  readonly columns: number
  readonly rows: number
  readonly planes: readonly PicturePlane[]
  /** True for the whole detail; false for an overview whose finest level is already reduced. */
  readonly whole: boolean
}

/** What must be known of a picture to take it apart. */
export interface PictureForm {
  /** Stored size, before it is turned upright. */
  readonly columns: number
  readonly rows: number
  /** Values a pixel, alpha among them, after colours on other systems have become red, green and blue. */
  readonly channels: number
  readonly alpha: boolean
  readonly sampleType: 'uint8' | 'uint16'
  /** EXIF orientation to be applied, 1 for none. */
  readonly orientation: number
}

/** An overview is the largest halving of the picture with no side longer than this: enough for a screen. */
const overviewSide = 2560

/** Settings of every file made here: uncompressed, since packing takes ten times as long and the cache is bounded anyway. */
const tiffSettings = {
  tile: true,
  tileWidth: 256,
  tileHeight: 256,
  pyramid: true,
  compression: 'none',
  bigtiff: true,
} as const

sharp.cache(false)

export interface MakingWish {
  readonly folder: string
  readonly whole: boolean
  readonly opening: Opening
  /** A file for each plane that holds its channels alone, where the picture was written anew. */
  readonly sources?: readonly string[] | undefined
}

interface Opening {
  /** 'error' and 'warning' stop at the first damage (of a TIFF libvips only warns); 'none' takes what can be had. */
  readonly failOn: 'error' | 'warning' | 'none'
}

/** Colours are taken as the file has them: an embedded profile is not applied, so that values stay those of the sensor. */
function opened(file: string, { failOn }: Opening): Sharp {
  return sharp(file, { failOn, limitInputPixels: mostPixels, sequentialRead: true, ignoreIcc: true })
}

/** The planes by channel: red, green, blue (or grey) with their alpha first, then one for each further band, then alpha by itself. */
export function planesOf({
  channels,
  alpha,
}: PictureForm): readonly { from: number; channels: number; alpha: boolean }[] {
  const bands = channels - (alpha ? 1 : 0)
  const first = bands >= 3 ? 3 : 1
  if (bands === first) return [{ from: 0, channels, alpha }]
  const rest = Array.from({ length: channels - first }, (_, i) => ({
    from: first + i,
    channels: 1,
    alpha: false,
  }))
  return [{ from: 0, channels: first, alpha: false }, ...rest].map((plane) =>
    alpha && plane.from === channels - 1 ? { ...plane, alpha: true } : plane,
  )
}

/** The pipeline of one plane; the size, where given, is that of the picture upright. */
function planePipeline(
  file: string,
  form: PictureForm,
  plane: { readonly from: number; readonly channels: number },
  opening: Opening,
  size: { readonly width: number; readonly height: number } | null,
): Sharp {
  const wide = form.sampleType === 'uint16'
  let pipeline = opened(file, opening)
  if (form.orientation !== 1) pipeline = pipeline.autoOrient()
  if (size !== null) pipeline = pipeline.resize({ ...size, fit: 'fill' })
  if (plane.channels === form.channels) {
    const grey = plane.channels < 3
    return pipeline.toColourspace(grey ? (wide ? 'grey16' : 'b-w') : wide ? 'rgb16' : 'srgb')
  }
  if (wide) pipeline = pipeline.toColourspace('rgb16')
  return plane.channels === 3 ? pipeline.removeAlpha() : pipeline.extractChannel(plane.from as 0)
}

function uprightSize({ columns, rows, orientation }: PictureForm): { width: number; height: number } {
  return orientation >= 5 ? { width: rows, height: columns } : { width: columns, height: rows }
}

/**
 * Makes the files of a picture in `folder`: an overview, or its whole detail.
 *
 * Cost    JPEG: an overview of 20,000 x 20,000 pixels in 1 s, for it is decoded reduced; the whole in 2 s. PNG and packed TIFF take as long
 *         as unpacking them does, for both. Memory: some rows (about 200 MB in all), but a progressive JPEG needs 3 bytes a pixel.
 * Faults  SurveyError 'broken-file', 'disk-full', 'cannot-write'.
 */
export async function makePlanes(
  file: string,
  name: string,
  form: PictureForm,
  wish: MakingWish,
  progress: Progress,
): Promise<PicturePlanes> {
  const upright = uprightSize(form)
  const halvings = Math.max(0, Math.ceil(Math.log2(Math.max(upright.width, upright.height) / overviewSide)))
  const whole = wish.whole || halvings === 0
  const size = whole
    ? null
    : {
        width: Math.max(1, Math.round(upright.width / 2 ** halvings)),
        height: Math.max(1, Math.round(upright.height / 2 ** halvings)),
      }
  const planes = planesOf(form)
  const made: PicturePlane[] = []
  for (const [i, plane] of planes.entries()) {
    const target = path.join(wish.folder, `${whole ? 'whole' : 'overview'}.${i}.tif`)
    const label = whole ? `preparing ${name} for the map` : `making an overview of ${name}`
    const told: Progress = (done) => progress((i + done) / planes.length, label)
    const source = wish.sources?.[i]
    const pipeline = planePipeline(
      source ?? file,
      source ? { ...form, channels: plane.channels } : form,
      plane,
      wish.opening,
      size,
    ).tiff(tiffSettings)
    await written(pipeline, target, name, told, expectedBytes(size ?? upright, plane.channels, form))
    made.push({ file: path.basename(target), channels: plane.channels, alpha: plane.alpha })
  }
  return { columns: upright.width, rows: upright.height, planes: made, whole }
}

/** Bytes of all levels in blocks of 256 x 256. */
function expectedBytes(
  { width, height }: { readonly width: number; readonly height: number },
  channels: number,
  { sampleType }: PictureForm,
): number {
  let blocks = 0
  for (let [w, h] = [width, height]; ; [w, h] = [w >> 1, h >> 1]) {
    blocks += Math.ceil(w / 256) * Math.ceil(h / 256)
    if (w <= 256 && h <= 256) break
  }
  return blocks * 256 * 256 * channels * (sampleType === 'uint16' ? 2 : 1)
}

async function written(
  pipeline: Sharp,
  target: string,
  name: string,
  progress: (done: number, label: string) => void,
  expected: number,
): Promise<void> {
  const { stat } = await import('node:fs/promises')
  const look = setInterval(() => {
    stat(target).then(
      ({ size }) => progress(Math.min(1, size / expected), ''),
      () => {},
    )
  }, 200)
  try {
    await pipeline.toFile(target)
  } catch (cause) {
    throw pictureFault(name, cause)
  } finally {
    clearInterval(look)
  }
}

/** What libvips says, as a fault of the file or of the disk. Its texts name the part of itself first: 'VipsJpeg: premature end of JPEG image'. */
function pictureFault(name: string, cause: unknown): SurveyError {
  const text = cause instanceof Error ? cause.message : String(cause)
  if (/no space left/i.test(text)) {
    const sentence = `${name} could not be prepared: the disk that holds the survey is full. Make room and try again.`
    return new SurveyError('disk-full', sentence, { cause })
  }
  if (/unable to open|permission denied|read-only file system/i.test(text)) {
    return new SurveyError('cannot-write', `${name} could not be prepared: ${text.split('\n')[0]}.`, {
      cause,
    })
  }
  if (/support is not configured|not supported/i.test(text)) {
    const sentence = `${name} is packed in a way that is not read here (${text.split('\n')[0]?.replace(/^\w+: /, '')}); save it with another compression.`
    return new SurveyError('unsupported-feature', sentence, { cause })
  }
  const reason = (text.split('\n')[0] ?? '').replace(/^\w+: /, '').slice(0, 200)
  return new SurveyError(
    'broken-file',
    `${name} is damaged or cut short and cannot be shown (${reason}); copy or export it again.`,
    { cause },
  )
}
