import { pieceValues, type Values } from './piece-values.ts'
import type { RandomBytes } from './random-bytes.ts'
import type { GeoTiff } from './read-geotiff.ts'
import {
  checkPieceSize,
  mostPieceBytes,
  type PieceBytes,
  pieceRowBytes,
  rowsOfPiece,
  tiffPiece,
  type Unpackers,
} from './tiff-pieces.ts'
import { TiffTrouble } from './tiff-trouble.ts'

/** Some whole rows of heights, one after another, NaN for none. */
export interface HeightRows {
  readonly values: Float32Array
  readonly rows: number
}

/** What was met on the way. */
export interface HeightTrouble {
  /** Pieces that lie beyond the end of the file or could not be unpacked, whose heights are left out. */
  lostPieces: number
}

/** Nothing on Earth is so high: programs write such numbers for "no data" without saying so. */
const absurd = 1e30
/** Rows of an unpacked strip that are taken at once, so that a picture in one strip need not be held. */
const plainBytes = 2 ** 24

/**
 * The first band of a TIFF as heights, from the top, some rows at a time: a row of tiles, a strip, or a part of an unpacked one. Where the stored value is the
 * file's "no data", no number, beyond 1e30, or its alpha is 0, there is none. Stored values become heights by the file's scale and offset.
 *
 * Cost    one piece row held; about 100 ms for ten million unpacked floats.
 * Faults  RangeError for values that `whyNotUnpacked` refuses; TiffTrouble 'raster-too-large' for pieces that cannot be held; pieces that cannot be read count in `trouble` and are NaN.
 */
export function* heightRows(
  file: RandomBytes,
  tiff: GeoTiff,
  unpackers: Unpackers,
  trouble: HeightTrouble,
): Generator<HeightRows> {
  const { picture } = tiff
  if (picture.compression === 1 && !picture.tiled && picture.predictor === 1) {
    yield* plainRows(file, tiff, trouble)
    return
  }
  const { columns, across, down, pieceColumns, pieceRows } = picture
  checkPieceSize(picture, 0)
  if (4 * columns * Math.min(pieceRows, picture.rows) > 2 * mostPieceBytes)
    throw new TiffTrouble('raster-too-large', `its rows of tiles have ${pieceRows} x ${columns} pixels`)
  for (let at = 0; at < down; at++) {
    const rows = Math.min(pieceRows, picture.rows - at * pieceRows)
    const values = new Float32Array(rows * columns).fill(Number.NaN)
    for (let i = 0; i < across; i++) {
      const found = readPieces(file, tiff, at * across + i, unpackers, trouble)
      if (!found) continue
      const left = i * pieceColumns
      const width = Math.min(pieceColumns, columns - left)
      const put = heightsOf(found, tiff)
      for (let row = 0; row < rows; row++) put(row * pieceColumns, width, values, row * columns + left)
    }
    yield { values, rows }
  }
}

interface Found {
  readonly band: Values
  /** Values from one pixel to the next. */
  readonly step: number
  readonly first: number
  /** Alpha, where the picture has it, likewise. */
  readonly alpha: Values | null
  readonly alphaFirst: number
}

function readPieces(
  file: RandomBytes,
  tiff: GeoTiff,
  piece: number,
  unpackers: Unpackers,
  trouble: HeightTrouble,
): Found | null {
  const { picture } = tiff
  const { across, down, planar, samples, alpha, sampleType, sampleBytes, offsets, counts } = picture
  const [first, alphaFirst] = [alpha === 0 && samples > 1 ? 1 : 0, alpha ?? 0]
  const at = (sample: number): number => piece + (planar ? sample * across * down : 0)
  const read = (sample: number): Values | null => {
    const bytes = tiffPieceOrNull(file, tiff, at(sample), unpackers)
    const empty = offsets[at(sample)] === 0 || counts[at(sample)] === 0
    if (!bytes && !empty) trouble.lostPieces += 1
    return bytes && pieceValues(bytes, sampleType, sampleBytes)
  }
  const band = read(first)
  if (!band) return null
  const transparent = alpha !== null && samples > 1
  const other = transparent ? (planar ? read(alphaFirst) : band) : null
  return planar
    ? { band, step: 1, first: 0, alpha: other, alphaFirst: 0 }
    : { band, step: samples, first, alpha: other, alphaFirst }
}

/** What cannot be unpacked is lost, like what is not there; only a piece too large to hold ends the reading. */
function tiffPieceOrNull(
  file: RandomBytes,
  tiff: GeoTiff,
  piece: number,
  unpackers: Unpackers,
): PieceBytes | null {
  try {
    return tiffPiece(file, tiff, piece, unpackers)
  } catch (error) {
    if (error instanceof RangeError || (error instanceof TiffTrouble && error.code === 'raster-too-large'))
      throw error
    return null
  }
}

/** Puts pixels from `from` on into `out` at `to`, as heights. */
function heightsOf(
  { band, step, first, alpha, alphaFirst }: Found,
  { noData, scale, offset, picture }: GeoTiff,
) {
  const none =
    noData !== null && picture.sampleType === 'float32' ? Math.fround(noData) : (noData ?? Number.NaN)
  const plain = scale === 1 && offset === 0
  return (from: number, count: number, out: Float32Array, to: number): void => {
    for (
      let i = 0, at = from * step + first, a = from * step + alphaFirst;
      i < count;
      i++, at += step, a += step
    ) {
      const value = band[at]!
      const there = value !== none && value < absurd && value > -absurd && (alpha === null || alpha[a] !== 0)
      out[to + i] = there ? (plain ? value : value * scale + offset) : Number.NaN
    }
  }
}

/** Strips that are not packed, read in parts. */
function* plainRows(file: RandomBytes, tiff: GeoTiff, trouble: HeightTrouble): Generator<HeightRows> {
  const { picture, little } = tiff
  const { columns, down, offsets, counts, sampleType, sampleBytes, planar, samples } = picture
  const rowBytes = pieceRowBytes(picture)
  if (rowBytes > mostPieceBytes) throw new RangeError(`rows of ${rowBytes} bytes cannot be held`)
  const first = picture.alpha === 0 && samples > 1 ? 1 : 0
  const step = Math.max(1, Math.floor(plainBytes / rowBytes))
  for (let strip = 0; strip < down; strip++) {
    const length = rowsOfPiece(picture, strip)
    const at = (sample: number): number => strip + (planar ? sample * down : 0)
    for (let top = 0; top < length; top += step) {
      const rows = Math.min(step, length - top)
      const read = (sample: number): Values | null => {
        const [start, count] = [offsets[at(sample)]!, counts[at(sample)]!]
        const bytes = new Uint8Array(rows * rowBytes)
        const wanted = Math.min(bytes.length, count - top * rowBytes)
        if (start === 0 || wanted <= 0) return null
        const got = file.read(start + top * rowBytes, wanted)
        if (got.length < bytes.length) return null
        bytes.set(got)
        return pieceValues({ bytes, little }, sampleType, sampleBytes)
      }
      const band = read(planar ? first : 0)
      const values = new Float32Array(rows * columns).fill(Number.NaN)
      if (band) {
        const transparent = picture.alpha !== null && samples > 1
        const alpha = transparent ? (planar ? read(picture.alpha) : band) : null
        const found = planar
          ? { band, step: 1, first: 0, alpha, alphaFirst: 0 }
          : { band, step: samples, first, alpha, alphaFirst: picture.alpha ?? 0 }
        heightsOf(found, tiff)(0, rows * columns, values, 0)
      } else if (offsets[at(first)] !== 0) trouble.lostPieces += 1
      yield { values, rows }
    }
  }
}
