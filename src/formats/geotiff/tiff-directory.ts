import type { RandomBytes } from './random-bytes.ts'
import { TiffTrouble } from './tiff-trouble.ts'

/** One entry of a directory: a tag, and where its values stand. */
interface TiffEntry {
  readonly type: number
  readonly count: number
  readonly at: number
}

export interface TiffDirectory {
  readonly entries: ReadonlyMap<number, TiffEntry>
}

export interface TiffHead {
  readonly little: boolean
  readonly big: boolean
  readonly directories: readonly TiffDirectory[]
}

/** Bytes of a value by field type: TIFF 6.0 section 2, and 13, 16 to 18 of the BigTIFF proposal. */
const typeBytes: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
  16: 8,
  17: 8,
  18: 8,
}

/** A picture with its overviews and masks has a dozen directories; a book of scans some hundred. */
const mostDirectories = 500
const mostEntries = 2000

/** Reads numbers of a TIFF in its order of bytes; what lies beyond the end of the file is trouble. */
export class TiffBytes {
  readonly little: boolean
  readonly file: RandomBytes

  constructor(file: RandomBytes, little: boolean) {
    this.file = file
    this.little = little
  }

  view(at: number, length: number): DataView {
    const bytes = at + length <= this.file.size ? this.file.read(at, length) : new Uint8Array(0)
    if (bytes.length < length)
      throw new TiffTrouble('broken-file', 'its directory points beyond the end of the file')
    return new DataView(bytes.buffer, bytes.byteOffset, length)
  }

  /** A whole number of 64 bits. Beyond 2^53 there is no file. */
  static wide(view: DataView, at: number, little: boolean): number {
    return Number(view.getBigUint64(at, little))
  }
}

/**
 * The directories of a TIFF or BigTIFF, in order. Their chain is followed to its end, a directory that leads back to one before, or 500 of them.
 * Source: TIFF 6.0 (Adobe 1992) section 2; BigTIFF (Aldus/Adobe and AWare, as libtiff has it). Faults: TiffTrouble.
 */
export function readDirectories(file: RandomBytes): TiffHead {
  const head = file.read(0, 16)
  if (head.length < 8) throw new TiffTrouble('broken-file', 'it ends within its first eight bytes')
  const little = head[0] === 0x49
  const view = new DataView(head.buffer, head.byteOffset, head.length)
  const version = view.getUint16(2, little)
  if (head[0] !== head[1] || (!little && head[0] !== 0x4d) || (version !== 42 && version !== 43))
    throw new TiffTrouble('unknown-kind', 'it does not begin as a TIFF does')
  const big = version === 43
  if (big && (head.length < 16 || view.getUint16(4, little) !== 8))
    throw new TiffTrouble('broken-file', 'its BigTIFF header is not right')
  const bytes = new TiffBytes(file, little)
  const directories: TiffDirectory[] = []
  const seen = new Set<number>()
  let at = big ? TiffBytes.wide(view, 8, little) : view.getUint32(4, little)
  while (at !== 0 && directories.length < mostDirectories) {
    if (seen.has(at)) break
    seen.add(at)
    try {
      const { directory, next } = oneDirectory(bytes, at, big)
      directories.push(directory)
      at = next
    } catch (error) {
      // What follows the first directory is overviews and further pages: the picture does without.
      if (!(error instanceof TiffTrouble) || directories.length === 0) throw error
      break
    }
  }
  if (directories.length === 0) throw new TiffTrouble('broken-file', 'it has no directory')
  return { little, big, directories }
}

function oneDirectory(
  bytes: TiffBytes,
  at: number,
  big: boolean,
): { directory: TiffDirectory; next: number } {
  const { little } = bytes
  const countBytes = big ? 8 : 2
  const start = bytes.view(at, countBytes)
  const count = big ? TiffBytes.wide(start, 0, little) : start.getUint16(0, little)
  if (count > mostEntries) throw new TiffTrouble('broken-file', `a directory claims ${count} entries`)
  const [entryBytes, inline] = big ? [20, 8] : [12, 4]
  const table = bytes.view(at + countBytes, count * entryBytes + inline)
  const entries = new Map<number, TiffEntry>()
  for (let i = 0; i < count; i++) {
    const from = i * entryBytes
    const type = table.getUint16(from + 2, little)
    const values = big ? TiffBytes.wide(table, from + 4, little) : table.getUint32(from + 4, little)
    const valueAt = from + (big ? 12 : 8)
    const length = values * (typeBytes[type] ?? 0)
    const elsewhere = big ? TiffBytes.wide(table, valueAt, little) : table.getUint32(valueAt, little)
    const place = length <= inline ? at + countBytes + valueAt : elsewhere
    entries.set(table.getUint16(from, little), { type, count: values, at: place })
  }
  const end = count * entryBytes
  const next = big ? TiffBytes.wide(table, end, little) : table.getUint32(end, little)
  return { directory: { entries }, next }
}

/** The numbers of an entry; none where the directory has no such tag. Faults: TiffTrouble where they cannot all be in the file. */
export function numbersAt(
  bytes: TiffBytes,
  { entries }: TiffDirectory,
  tag: number,
  most: number,
): Float64Array {
  const entry = entries.get(tag)
  if (!entry) return new Float64Array(0)
  const size = typeBytes[entry.type] ?? 0
  if (size === 0 || entry.type === 2)
    throw new TiffTrouble('broken-file', `its field ${tag} is of a kind that it cannot be`)
  if (entry.count > most)
    throw new TiffTrouble('unsafe-file', `its field ${tag} claims ${entry.count} values`)
  const view = bytes.view(entry.at, entry.count * size)
  const out = new Float64Array(entry.count)
  for (let i = 0; i < out.length; i++) out[i] = numberAt(view, i * size, entry.type, bytes.little)
  return out
}

function numberAt(view: DataView, at: number, type: number, little: boolean): number {
  if (type === 3) return view.getUint16(at, little)
  if (type === 4 || type === 13) return view.getUint32(at, little)
  if (type === 12) return view.getFloat64(at, little)
  if (type === 16 || type === 18) return TiffBytes.wide(view, at, little)
  if (type === 17) return Number(view.getBigInt64(at, little))
  if (type === 11) return view.getFloat32(at, little)
  if (type === 9) return view.getInt32(at, little)
  if (type === 8) return view.getInt16(at, little)
  if (type === 6) return view.getInt8(at)
  if (type === 5) return view.getUint32(at, little) / view.getUint32(at + 4, little)
  if (type === 10) return view.getInt32(at, little) / view.getInt32(at + 4, little)
  return view.getUint8(at)
}

const mostText = 1_000_000

/** The text of an entry up to its first NUL, byte by byte as Latin 1; empty where there is none. */
export function textAt(bytes: TiffBytes, { entries }: TiffDirectory, tag: number): string {
  const entry = entries.get(tag)
  if (entry?.type !== 2) return ''
  const view = bytes.view(entry.at, Math.min(entry.count, mostText))
  let text = ''
  for (let i = 0; i < view.byteLength; i++) text += String.fromCharCode(view.getUint8(i))
  return text
}
