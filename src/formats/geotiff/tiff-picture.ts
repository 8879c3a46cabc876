import { numbersAt, type TiffBytes, type TiffDirectory } from './tiff-directory.ts'
import { TiffTrouble } from './tiff-trouble.ts'

/** How the values of a TIFF are kept. Names are those of `LayerFacts.sampleType`. */
export type SampleType =
  | 'uint8'
  | 'int8'
  | 'uint16'
  | 'int16'
  | 'uint32'
  | 'int32'
  | 'float32'
  | 'float64'
  | `bits${number}`

/** How the pixels of a TIFF stand in its file. */
export interface TiffPicture {
  readonly columns: number
  readonly rows: number
  /** Values a pixel, alpha among them. */
  readonly samples: number
  readonly sampleType: SampleType
  /** Bytes of a value; 0 where it is not whole bytes. */
  readonly sampleBytes: number
  /** TIFF 6.0 codes, and those that programs have agreed on since: 8 and 32946 deflate, 50000 Zstandard. */
  readonly compression: number
  readonly predictor: number
  readonly photometric: number
  /** True where each band has pieces of its own. */
  readonly planar: boolean
  /** Which sample is alpha, counted from 0; null for none. */
  readonly alpha: number | null
  readonly tiled: boolean
  /** Size of a piece: a tile, or a strip across the picture. */
  readonly pieceColumns: number
  readonly pieceRows: number
  readonly across: number
  readonly down: number
  /** Where each piece begins and how many bytes it has; both 0 for one that holds nothing. */
  readonly offsets: Float64Array
  readonly counts: Float64Array
}

const mostSamples = 1000
/** 50,000 x 50,000 in tiles of 64 x 64, or in strips of one row for each of eighty bands; the table is held whole, so it has a bound of its own. */
const mostPieces = 4_000_000

/** The layout that a directory states. Faults: TiffTrouble for one that cannot be. */
export function tiffPicture(bytes: TiffBytes, directory: TiffDirectory): TiffPicture {
  const list = (tag: number, most = mostSamples): Float64Array => {
    const numbers = numbersAt(bytes, directory, tag, most)
    if (numbers.every((number) => Number.isSafeInteger(number) && number >= 0)) return numbers
    throw new TiffTrouble('broken-file', `its field ${tag} has values that are no whole numbers`)
  }
  const one = (tag: number, otherwise: number): number => list(tag, mostPieces)[0] ?? otherwise
  const [columns, rows] = [one(256, 0), one(257, 0)]
  const samples = one(277, 1)
  if (!(columns > 0 && rows > 0)) throw new TiffTrouble('broken-file', 'it states no size')
  if (!(samples > 0 && samples <= mostSamples))
    throw new TiffTrouble('broken-file', `it states ${samples} values a pixel`)
  const { sampleType, sampleBytes } = sampleOf(list(258), list(339), samples)
  const tiled = directory.entries.has(322)
  const pieceColumns = tiled ? one(322, 0) : columns
  const pieceRows = tiled ? one(323, 0) : Math.min(rows, one(278, rows))
  if (!(pieceColumns > 0 && pieceRows > 0)) throw new TiffTrouble('broken-file', 'its pieces have no size')
  const [across, down] = [Math.ceil(columns / pieceColumns), Math.ceil(rows / pieceRows)]
  const planar = one(284, 1) === 2 && samples > 1
  const pieces = across * down * (planar ? samples : 1)
  const offsets = list(tiled ? 324 : 273, mostPieces)
  const compression = one(259, 1)
  const stated = list(tiled ? 325 : 279, mostPieces)
  const counts = stated.length > 0 ? stated : countsFor(offsets.length, compression, bytes.file.size)
  if (offsets.length < pieces || counts.length < pieces)
    throw new TiffTrouble(
      'broken-file',
      `it has ${pieces} pieces but says of ${offsets.length} where they are`,
    )
  return {
    ...{ columns, rows, samples, sampleType, sampleBytes, compression, planar, tiled },
    predictor: one(317, 1),
    photometric: one(262, 1),
    alpha: alphaOf(list(338), samples),
    ...{ pieceColumns, pieceRows, across, down, offsets, counts },
  }
}

/** A plain picture in one piece may leave out how long it is. */
function countsFor(pieces: number, compression: number, size: number): Float64Array {
  return new Float64Array(compression === 1 && pieces === 1 ? 1 : 0).fill(size)
}

function sampleOf(
  bits: Float64Array,
  formats: Float64Array,
  samples: number,
): { sampleType: SampleType; sampleBytes: number } {
  const [depth = 1] = bits
  const [format = 1] = formats
  const used = Math.min(samples, bits.length)
  if (bits.subarray(0, used).some((each) => each !== depth) || formats.some((each) => each !== format))
    throw new TiffTrouble('unsupported-feature', 'its bands have values of different kinds')
  const kind = { 1: 'uint', 2: 'int', 3: 'float', 4: 'uint' }[format]
  const known = kind === 'float' ? [32, 64] : [8, 16, 32]
  if (kind === undefined) throw new TiffTrouble('unsupported-feature', 'its values are complex numbers')
  if (known.includes(depth)) return { sampleType: `${kind}${depth}` as SampleType, sampleBytes: depth / 8 }
  return { sampleType: `bits${depth}`, sampleBytes: 0 }
}

/** Extra samples stand last; 1 and 2 are alpha (TIFF 6.0 section 18), 0 a band like any other. */
function alphaOf(extra: Float64Array, samples: number): number | null {
  const at = extra.findIndex((kind) => kind === 1 || kind === 2)
  return at < 0 || extra.length > samples ? null : samples - extra.length + at
}
