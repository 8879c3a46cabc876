import type { RandomBytes } from './random-bytes.ts'
import type { GeoTiff } from './read-geotiff.ts'
import type { TiffPicture } from './tiff-picture.ts'
import { TiffTrouble } from './tiff-trouble.ts'
import { undoPredictor } from './undo-predictor.ts'
import { unpackLzw } from './unpack-lzw.ts'
import { unpackRuns } from './unpack-runs.ts'

/** How packed bytes are unpacked by the house that runs this; each gives at most `most` bytes, and throws for bytes that make no sense. */
export interface Unpackers {
  inflate(packed: Uint8Array, most: number): Uint8Array
  zstd(packed: Uint8Array, most: number): Uint8Array
}

/** Bytes of one piece, in the order `highest first` or not. */
export interface PieceBytes {
  readonly bytes: Uint8Array
  readonly little: boolean
}

/** The largest piece that is unpacked, since it is held whole. */
export const mostPieceBytes = 2 ** 29

const packings: Readonly<Record<number, string>> = {
  2: 'fax (CCITT)',
  3: 'fax (CCITT)',
  4: 'fax (CCITT)',
  6: 'old JPEG',
  7: 'JPEG',
  34887: 'LERC',
  34925: 'LZMA',
  50001: 'WebP',
  50002: 'JPEG XL',
}

/** Whether pieces of a picture can be unpacked here; else why not. */
export function whyNotUnpacked({
  compression,
  predictor,
  sampleBytes,
  sampleType,
}: TiffPicture): string | null {
  if (sampleBytes === 0) return `its values have ${sampleType.slice(4)} bits`
  const known = [1, 5, 8, 32_773, 32_946, 50_000]
  if (!known.includes(compression))
    return `its values are packed by ${packings[compression] ?? `method ${compression}`}`
  const floating = sampleType.startsWith('float')
  if (predictor === 1 || predictor === 2 || (predictor === 3 && floating)) return null
  return `its values are packed with predictor ${predictor}`
}

/** Bytes of a row of a piece; rows of single bits are filled up to whole bytes. */
export function pieceRowBytes({
  pieceColumns,
  planar,
  samples,
  sampleBytes,
  sampleType,
}: TiffPicture): number {
  const values = pieceColumns * (planar ? 1 : samples)
  return sampleBytes > 0 ? values * sampleBytes : Math.ceil((values * Number(sampleType.slice(4))) / 8)
}

/** The bytes of a piece as they stand in the file; null as for `tiffPiece`. */
export function packedPiece(file: RandomBytes, picture: TiffPicture, piece: number): Uint8Array | null {
  const [at, count] = [picture.offsets[piece]!, picture.counts[piece]!]
  if (at === 0 || count === 0 || at + count > file.size) return null
  if (count > mostPieceBytes) throw new TiffTrouble('broken-file', 'a piece is longer packed than it can be')
  return file.read(at, count)
}

/** Rows that the pieces of one row of pieces have: fewer in the last row of strips. */
export function rowsOfPiece({ tiled, pieceRows, rows }: TiffPicture, down: number): number {
  return tiled ? pieceRows : Math.min(pieceRows, rows - down * pieceRows)
}

/** Unpacked bytes of a piece in a row of pieces. Faults: TiffTrouble 'raster-too-large' where it cannot be held. */
export function checkPieceSize(picture: TiffPicture, down: number): number {
  const bytes = rowsOfPiece(picture, down) * pieceRowBytes(picture)
  if (bytes <= mostPieceBytes) return bytes
  throw new TiffTrouble('raster-too-large', `it is packed in pieces of ${Math.round(bytes / 2 ** 20)} MiB`)
}

/**
 * The bytes of a piece, unpacked, its prediction undone; null for one that holds nothing (as GDAL writes them) or lies beyond the end of the file. Pieces are
 * counted as the file has them: row by row, and band by band where bands stand apart.
 * Faults: TiffTrouble for one that cannot be unpacked, or is larger than 512 MiB.
 */
export function tiffPiece(
  file: RandomBytes,
  { picture, little }: Pick<GeoTiff, 'picture' | 'little'>,
  piece: number,
  unpackers: Unpackers,
): PieceBytes | null {
  const { across, down, planar, samples, compression, predictor } = picture
  const packed = packedPiece(file, picture, piece)
  if (!packed) return null
  const length = checkPieceSize(picture, Math.floor(piece / across) % down)
  const bytes = unpacked(packed, length, compression, unpackers)
  if (predictor === 1) return { bytes, little }
  const form = {
    columns: picture.pieceColumns,
    samples: planar ? 1 : samples,
    size: picture.sampleBytes,
    little,
  }
  return { bytes, little: undoPredictor(bytes, predictor, form) || little }
}

/** A copy, so that what is done in place does not reach the file. */
function unpacked(packed: Uint8Array, length: number, compression: number, unpackers: Unpackers): Uint8Array {
  const out = new Uint8Array(length)
  if (compression === 1) out.set(packed.subarray(0, length))
  else if (compression === 5) unpackLzw(packed, out)
  else if (compression === 32_773) unpackRuns(packed, out)
  else {
    const full = compression === 50_000 ? unpackers.zstd(packed, length) : unpackers.inflate(packed, length)
    out.set(full.subarray(0, length))
  }
  return out
}
