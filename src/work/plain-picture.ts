import { closeSync, openSync, writeSync } from 'node:fs'
import path from 'node:path'
import type { Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { type GeoTiff, type RandomBytes, whyNotUnpacked } from '#formats/geotiff'
import { tiffHeader, withFileAsync } from './file-bytes.ts'
import { pictureRows } from './picture-rows.ts'
import { checkSize } from './pyramid-limits.ts'
import { type PictureForm, planesOf } from './pyramid-picture.ts'

/** A picture written anew, plane by plane, in a form that libvips reads as it is meant. */
export interface PlainPicture {
  readonly form: PictureForm
  /** A file for each plane, in their order. */
  readonly sources: readonly string[]
  /** What is wrong with it, as a sentence, where only a part could be read. */
  readonly damage: string | null
}

/**
 * Why libvips cannot be left to read a TIFF alone: it does not unpack Zstandard, takes any fourth band for alpha, does not know
 * masks, nor which colour of a palette means nothing.
 */
export function needsPlain({ picture, mask, noData, palette }: GeoTiff): boolean {
  const { samples, alpha, compression, sampleBytes } = picture
  if (sampleBytes === 0 || sampleBytes > 2) return false
  const notAlpha = alpha === null && (samples === 2 || samples >= 4)
  const zstd = compression === 50_000
  const jpeg = compression === 7 && samples >= 4
  return zstd || jpeg || notAlpha || mask !== null || (palette !== null && noData !== null)
}

const pixelsOf = ({ picture, mask, palette, noData }: GeoTiff): { channels: number; alpha: boolean } => {
  const bands = palette ? 3 : picture.samples - (picture.alpha === null ? 0 : 1)
  const alpha = picture.alpha !== null || mask !== null || (palette !== null && noData !== null)
  return { channels: bands + (alpha ? 1 : 0), alpha }
}

function whyNotPlain({ picture, palette }: GeoTiff): string | null {
  const { compression, samples, sampleBytes } = picture
  if (palette && sampleBytes > 1)
    return 'its palette has more than 256 colours; save it in red, green and blue'
  if (compression === 7)
    return samples <= 3 ? null : 'it has more than three bands, packed by JPEG; save it with deflate or LZW'
  const why = whyNotUnpacked(picture)
  return why && `${why}; save it with deflate or LZW`
}

const notWhole = (name: string, sampleType: string): SurveyError =>
  new SurveyError(
    'unsupported-feature',
    `${name} cannot be shown as a picture: its values are of the kind ${sampleType}; save it with 8 or 16 bits a colour.`,
  )

/**
 * Writes a TIFF anew where it must be; null where libvips reads it well. Held are one row of its pieces.
 * Faults: SurveyError 'unsupported-feature', 'broken-file', 'raster-too-large', 'disk-full'.
 */
export async function plainPicture(
  { file, name, folder }: { readonly file: string; readonly name: string; readonly folder: string },
  progress: Progress,
): Promise<PlainPicture | null> {
  const { tiff } = tiffHeader(name, file)
  if (!tiff || !needsPlain(tiff)) return null
  const { columns, rows, sampleType } = tiff.picture
  if (sampleType !== 'uint8' && sampleType !== 'uint16') throw notWhole(name, sampleType)
  const why = whyNotPlain(tiff)
  if (why) throw new SurveyError('unsupported-feature', `${name} cannot be shown as a picture: ${why}.`)
  const form: PictureForm = { columns, rows, ...pixelsOf(tiff), sampleType, orientation: 1 }
  return withFileAsync(file, async (bytes) => {
    checkSize(name, columns, rows, bytes.size)
    return { form, ...(await writtenPlanes(bytes, tiff, form, { name, folder }, progress)) }
  })
}

async function writtenPlanes(
  bytes: RandomBytes,
  tiff: GeoTiff,
  form: PictureForm,
  { name, folder }: { readonly name: string; readonly folder: string },
  progress: Progress,
): Promise<Pick<PlainPicture, 'sources' | 'damage'>> {
  const planes = planesOf(form).map((plane, i) => {
    const file = path.join(folder, `plain.${i}.tif`)
    return { ...plane, file, out: new PlainTiff(file, form, plane.channels, plane.alpha) }
  })
  const trouble = { lostPieces: 0 }
  try {
    let row = 0
    for await (const part of pictureRows(bytes, tiff, form, trouble)) {
      const pixels = part.values.length / form.channels
      for (const { from, channels, out } of planes) {
        const values =
          channels === form.channels
            ? part.values
            : new (form.sampleType === 'uint16' ? Uint16Array : Uint8Array)(pixels * channels)
        if (values !== part.values)
          for (let i = 0; i < pixels; i++)
            for (let k = 0; k < channels; k++)
              values[i * channels + k] = part.values[i * form.channels + from + k]!
        out.put(values)
      }
      row += part.rows
      progress(row / form.rows, `unpacking ${name}`)
    }
    for (const { out } of planes) out.finish()
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOSPC')
      throw new SurveyError(
        'disk-full',
        `${name} could not be prepared: the disk that holds the survey is full. Make room and try again.`,
        { cause },
      )
    if ((cause as Error).name !== 'TiffTrouble') throw cause
    throw new SurveyError(
      'broken-file',
      `${name} cannot be shown: ${(cause as Error).message}; save it in tiles of 256 x 256.`,
      { cause },
    )
  } finally {
    for (const { out } of planes) out.close()
  }
  const pieces = tiff.picture.across * tiff.picture.down
  if (trouble.lostPieces >= pieces)
    throw new SurveyError(
      'broken-file',
      `${name} is damaged or cut short: none of its pixels can be read; copy or export it again.`,
    )
  const sources = planes.map(({ file }) => file)
  const lost = `${name} is damaged or cut short: ${trouble.lostPieces} of its ${pieces} pieces cannot be read; what they hold is left empty.`
  return { sources, damage: trouble.lostPieces > 0 ? lost : null }
}

/** A BigTIFF that is written row by row: little-endian, not packed, one strip for each `put`, its directory last. */
class PlainTiff {
  readonly #fd: number
  readonly #form: PictureForm
  readonly #channels: number
  readonly #alpha: boolean
  #at = 16
  readonly #offsets: number[] = []
  readonly #counts: number[] = []
  #rowsPerStrip = 0

  constructor(file: string, form: PictureForm, channels: number, alpha: boolean) {
    this.#form = form
    this.#channels = channels
    this.#alpha = alpha
    this.#fd = openSync(file, 'w')
  }

  put(values: Uint8Array | Uint16Array): void {
    this.#rowsPerStrip ||= values.length / (this.#channels * this.#form.columns)
    this.#offsets.push(this.#at)
    this.#counts.push(values.byteLength)
    this.#write(new Uint8Array(values.buffer, values.byteOffset, values.byteLength))
  }

  #write(bytes: Uint8Array): void {
    let done = 0
    while (done < bytes.length) done += writeSync(this.#fd, bytes, done, bytes.length - done, this.#at + done)
    this.#at += bytes.length
  }

  finish(): void {
    const { columns, rows, sampleType } = this.#form
    const strips = this.#offsets.length
    const offsetsAt = this.#list(this.#offsets)
    const countsAt = this.#list(this.#counts)
    const bits = sampleType === 'uint16' ? 16n : 8n
    const each = Array.from({ length: this.#channels }, (_, i) => bits << BigInt(16 * i)).slice(0, 4)
    const colours = this.#channels >= 3
    const [short, long8] = [3, 16]
    const fields: [number, number, number, bigint][] = [
      [256, long8, 1, BigInt(columns)],
      [257, long8, 1, BigInt(rows)],
      [258, short, this.#channels, each.reduce((sum, one) => sum | one, 0n)],
      [259, short, 1, 1n],
      [262, short, 1, colours ? 2n : 1n],
      [273, long8, strips, strips === 1 ? BigInt(this.#offsets[0]!) : offsetsAt],
      [277, short, 1, BigInt(this.#channels)],
      [278, long8, 1, BigInt(this.#rowsPerStrip)],
      [279, long8, strips, strips === 1 ? BigInt(this.#counts[0]!) : countsAt],
      [284, short, 1, 1n],
    ]
    // Alpha that the colours are not multiplied by.
    if (this.#alpha && this.#channels > 1) fields.push([338, short, 1, 2n])
    const directory = Buffer.alloc(8 + 20 * fields.length + 8)
    directory.writeBigUInt64LE(BigInt(fields.length))
    for (const [i, [tag, type, count, value]] of fields.entries()) {
      directory.writeUInt16LE(tag, 8 + 20 * i)
      directory.writeUInt16LE(type, 10 + 20 * i)
      directory.writeBigUInt64LE(BigInt(count), 12 + 20 * i)
      directory.writeBigUInt64LE(value, 20 + 20 * i)
    }
    const head = Buffer.from('49492b00080000000000000000000000', 'hex')
    head.writeBigUInt64LE(BigInt(this.#at), 8)
    this.#write(directory)
    writeSync(this.#fd, head, 0, 16, 0)
  }

  #list(values: readonly number[]): bigint {
    const bytes = Buffer.alloc(8 * values.length)
    for (const [i, value] of values.entries()) bytes.writeBigUInt64LE(BigInt(value), 8 * i)
    const at = this.#at
    this.#write(bytes)
    return BigInt(at)
  }

  close(): void {
    closeSync(this.#fd)
  }
}
