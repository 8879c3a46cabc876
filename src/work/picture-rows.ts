import sharp from 'sharp'
import {
  type GeoTiff,
  packedPiece,
  pieceValues,
  type RandomBytes,
  rowsOfPiece,
  type TiffPicture,
  tiffPiece,
} from '#formats/geotiff'
import { nodeUnpackers } from './file-bytes.ts'
import type { PictureForm } from './pyramid-picture.ts'

type Pixels = Uint8Array | Uint16Array

interface PictureRows {
  /** Values of each pixel side by side, alpha last. */
  readonly values: Pixels
  readonly rows: number
}

/**
 * The pixels of a TIFF from the top, a row of its pieces at a time: palette colours as red, green and blue, mask and "no data" of a palette as alpha. Pieces that
 * cannot be read are clear, or black without alpha, and count in `trouble`.
 */
export async function* pictureRows(
  file: RandomBytes,
  tiff: GeoTiff,
  form: PictureForm,
  trouble: { lostPieces: number },
): AsyncGenerator<PictureRows> {
  const { picture, mask } = tiff
  const { columns, channels, alpha } = form
  const make = (length: number): Pixels =>
    form.sampleType === 'uint16' ? new Uint16Array(length) : new Uint8Array(length)
  const whole = form.sampleType === 'uint16' ? 65_535 : 255
  const maskRows = mask && bitRows(file, tiff, mask)
  for (let at = 0; at < picture.down; at++) {
    const rows = Math.min(picture.pieceRows, picture.rows - at * picture.pieceRows)
    const values = make(rows * columns * channels)
    for (let across = 0; across < picture.across; across++) {
      const left = across * picture.pieceColumns
      const width = Math.min(picture.pieceColumns, columns - left)
      const found = await pixelsOf(file, tiff, at * picture.across + across)
      if (!found) {
        trouble.lostPieces += 1
        continue
      }
      place(found, tiff, { rows, width, left, whole, channels, alpha }, values, columns)
    }
    if (maskRows)
      for (let row = 0; row < rows; row++) {
        const bits = maskRows(at * picture.pieceRows + row)
        for (let i = 0; i < columns; i++) {
          const shown = (bits[i >> 3]! >> (7 - (i & 7))) & 1
          if (shown === 0) values[(row * columns + i) * channels + channels - 1] = 0
        }
      }
    yield { values, rows }
  }
}

/** Samples of a piece: side by side, or each by itself. */
type Found = readonly { readonly values: Pixels; readonly first: number; readonly step: number }[]

async function pixelsOf(file: RandomBytes, tiff: GeoTiff, piece: number): Promise<Found | null> {
  const { picture } = tiff
  const { samples, planar, across, down } = picture
  const one = async (at: number): Promise<Pixels | null> => {
    if (picture.compression === 7) return jpegPiece(file, tiff, at)
    try {
      const bytes = tiffPiece(file, tiff, at, nodeUnpackers)
      return bytes && (pieceValues(bytes, picture.sampleType, picture.sampleBytes) as Pixels)
    } catch (error) {
      if ((error as { code?: string }).code === 'raster-too-large') throw error
      return null
    }
  }
  if (!planar) {
    const values = await one(piece)
    return values && Array.from({ length: samples }, (_, first) => ({ values, first, step: samples }))
  }
  const found: { values: Pixels; first: number; step: number }[] = []
  for (let sample = 0; sample < samples; sample++) {
    const values = await one(piece + sample * across * down)
    if (!values) return null
    found.push({ values, first: 0, step: 1 })
  }
  return found
}

interface PlacePart {
  readonly rows: number
  readonly width: number
  readonly left: number
  readonly whole: number
  readonly channels: number
  readonly alpha: boolean
}

function place(
  found: Found,
  { picture, palette, noData }: GeoTiff,
  { rows, width, left, whole, channels, alpha }: PlacePart,
  out: Pixels,
  columns: number,
): void {
  const { pieceColumns } = picture
  const bands = found.filter((_, i) => i !== picture.alpha)
  const own = picture.alpha === null ? null : found[picture.alpha]!
  for (let row = 0; row < rows; row++)
    for (let i = 0; i < width; i++) {
      const from = row * pieceColumns + i
      const to = (row * columns + left + i) * channels
      if (palette) {
        const index = bands[0]!.values[from * bands[0]!.step]!
        for (let k = 0; k < 3; k++) out[to + k] = palette[3 * index + k] ?? 0
        const hidden = index === noData || (own !== null && own.values[from * own.step + own.first] === 0)
        if (alpha) out[to + 3] = hidden ? 0 : whole
        continue
      }
      for (const [k, { values, first, step }] of bands.entries()) out[to + k] = values[from * step + first]!
      if (alpha) out[to + channels - 1] = own ? own.values[from * own.step + own.first]! : whole
    }
}

/** A piece packed by JPEG, with the tables that all share put before it. Three bands that are colours already are marked as such. */
async function jpegPiece(
  file: RandomBytes,
  { picture, jpegTables }: GeoTiff,
  piece: number,
): Promise<Pixels | null> {
  const packed = packedPiece(file, picture, piece)
  if (!packed) return null
  const tables = jpegTables ? jpegTables.subarray(2, jpegTables.length - 2) : new Uint8Array(0)
  const colours = picture.samples === 3 && picture.photometric === 2 ? adobeRgb : new Uint8Array(0)
  const start = Uint8Array.of(0xff, 0xd8)
  const whole = Buffer.concat([start, colours, tables, packed.subarray(2)])
  const space = picture.samples === 1 ? 'b-w' : 'srgb'
  try {
    const { data, info } = await sharp(whole, { failOn: 'error', ignoreIcc: true })
      .toColourspace(space)
      .raw()
      .toBuffer({ resolveWithObject: true })
    const fits = info.channels === picture.samples && info.width === picture.pieceColumns
    return fits ? new Uint8Array(data.buffer, data.byteOffset, data.length) : null
  } catch {
    return null
  }
}

/** The marker by which JPEG says that its three bands are red, green and blue (Adobe technical note 5116). */
const adobeRgb = Uint8Array.of(0xff, 0xee, 0, 14, 0x41, 0x64, 0x6f, 0x62, 0x65, 0, 100, 0, 0, 0, 0, 0)

/** Rows of a mask as bits, the highest first; rows of pieces are unpacked as they are reached. A piece that cannot be read hides nothing. */
function bitRows(file: RandomBytes, tiff: GeoTiff, mask: TiffPicture): (row: number) => Uint8Array {
  const { pieceRows, pieceColumns, across, columns } = mask
  const rowBytes = Math.ceil(columns / 8)
  let [top, length] = [-1, 0]
  let held = new Uint8Array(0)
  const load = (down: number): void => {
    length = rowsOfPiece(mask, down)
    held = new Uint8Array(length * rowBytes).fill(255)
    for (let i = 0; i < across; i++) {
      const bytes = maskPiece(file, { ...tiff, picture: mask }, down * across + i)
      if (!bytes) continue
      const pieceBytes = Math.ceil(pieceColumns / 8)
      const at = (i * pieceColumns) / 8
      for (let row = 0; row < length; row++) {
        const from = bytes.subarray(row * pieceBytes, row * pieceBytes + Math.min(pieceBytes, rowBytes - at))
        held.set(from, row * rowBytes + at)
      }
    }
    top = down * pieceRows
  }
  return (row) => {
    if (top < 0 || row < top || row >= top + length) load(Math.floor(row / pieceRows))
    return held.subarray((row - top) * rowBytes, (row - top + 1) * rowBytes)
  }
}

function maskPiece(file: RandomBytes, tiff: GeoTiff, piece: number): Uint8Array | null {
  try {
    return tiffPiece(file, tiff, piece, nodeUnpackers)?.bytes ?? null
  } catch {
    return null
  }
}
