import { createReadStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { createGunzip } from 'node:zlib'
import type { Progress } from '#contract'
import { type FileFault, SurveyError } from '#core/faults'
import { type AscHeader, AscReader } from '#formats/asc'
import { HeightsFile } from './heights-file.ts'
import { checkSize } from './pyramid-limits.ts'

export interface ReadHeights {
  readonly columns: number
  readonly rows: number
  readonly faults: readonly FileFault[]
}

export interface AscHeights extends ReadHeights {
  readonly header: AscHeader
}

/** A packed grid may unpack to so many bytes a cell, and some for its header; real ones have fewer than twenty. */
const mostBytesPerCell = 64
const headerBytes = 65_536
/** Share of the work that reading takes, about; the rest is the coarser scales. */
const reading = 0.9

/**
 * Writes an ESRI ASCII grid, packed by gzip or not, as a file of blocks. It is never held whole.
 * Faults  SurveyError where nothing of it can be shown: 'broken-file', 'bad-value', 'empty-file', 'unsafe-file', 'raster-too-large'.
 */
export async function heightsOfAsc(
  {
    file,
    name,
    size,
    out,
  }: { readonly file: string; readonly name: string; readonly size: number; readonly out: string },
  progress: Progress,
): Promise<AscHeights> {
  const label = `reading ${name}`
  const faults: FileFault[] = []
  let header: AscHeader | null = null
  let heights: HeightsFile | null = null
  let given = 0
  const reader = new AscReader(name, {
    onHeader: (found) => {
      // Two bytes a cell are the fewest there can be, packed up to a thousandfold.
      checkSize(name, found.columns, found.rows, size)
      header = found
      heights = new HeightsFile(out, found.columns, found.rows)
      return true
    },
    onRow: (values) => {
      heights!.put(values)
      given += 1
    },
  })
  const limit = (): number => headerBytes + (header ? mostBytesPerCell * header.columns * header.rows : 0)
  try {
    try {
      await pour(file, size, reader, limit, (done) => progress(done * reading, label))
    } catch (error) {
      if (!(error instanceof Unpacking)) throw error
      faults.push({ line: null, code: 'broken-file', text: error.message })
    }
    const all = [...reader.faults, ...faults]
    if (!header || !heights || given === 0) throw nothingRead(name, all)
    const { columns, rows } = header as AscHeader
    ;(heights as HeightsFile).finish((done) => progress(reading + done * (1 - reading), label), label)
    return { header, columns, rows, faults: all }
  } finally {
    ;(heights as HeightsFile | null)?.close()
  }
}

/** A gzip stream that is damaged. */
class Unpacking extends Error {}

async function pour(
  file: string,
  size: number,
  reader: AscReader,
  limit: () => number,
  progress: (done: number) => void,
): Promise<void> {
  const source = createReadStream(file, { highWaterMark: 1 << 20 })
  const packed = await isGzip(file)
  const stream = packed ? source.pipe(createGunzip({ chunkSize: 1 << 20 })) : source
  let unpacked = 0
  try {
    for await (const piece of stream) {
      reader.push(piece as Buffer)
      unpacked += (piece as Buffer).length
      if (packed && unpacked > limit()) {
        const sentence = `${file} unpacks to far more than its header claims; do not trust the file, get it again from its source.`
        throw new SurveyError('unsafe-file', sentence)
      }
      progress(Math.min(1, source.bytesRead / Math.max(1, size)))
      if (reader.ended) break
    }
  } catch (error) {
    const { code = '' } = error as NodeJS.ErrnoException
    if (!/^Z_/.test(code)) throw error
    reader.end()
    throw new Unpacking('Its packing is damaged or cut short; what stood before was read.')
  } finally {
    source.destroy()
  }
  reader.end()
}

async function isGzip(file: string): Promise<boolean> {
  const handle = await open(file, 'r')
  try {
    const { buffer } = await handle.read(Buffer.alloc(2), 0, 2, 0)
    return buffer[0] === 0x1f && buffer[1] === 0x8b
  } finally {
    await handle.close()
  }
}

function nothingRead(name: string, faults: readonly FileFault[]): SurveyError {
  const [first] = faults
  if (!first) return new SurveyError('broken-file', `${name} holds no heights.`)
  const where = first.line === null ? '' : `${name}, line ${first.line}: `
  return new SurveyError(first.code, `${where}${first.text}`)
}
