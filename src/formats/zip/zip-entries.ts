import { type UnzipFileInfo, unzipSync } from 'fflate'
import { SurveyError } from '#core/faults'

export interface ZipEntry {
  readonly name: string
  /** Unpacked size as the archive states it, bytes. */
  readonly size: number
}

const mostEntries = 10_000
const mostBytes = 2 ** 28
const usualRatio = 250
const ratioMattersFrom = 2 ** 20

/**
 * What a zip archive lists, folders left out. Nothing is unpacked.
 * Faults: SurveyError('broken-file') where it cannot be read, ('unsafe-file') above 10,000 entries.
 */
export function zipEntries(bytes: Uint8Array, fileName: string): ZipEntry[] {
  const entries: ZipEntry[] = []
  walk(bytes, fileName, ({ name, originalSize }) => {
    if (name !== '' && !name.endsWith('/')) entries.push({ name, size: originalSize })
    return false
  })
  return entries
}

/**
 * The bytes of the first entry of that name, or null. The archive's own word on the size is the bound: no more is ever
 * unpacked, and a word of over 256 MiB, or of over `mostRatio` times the packed size (250 if not given), is refused.
 * Faults: SurveyError('broken-file'), ('unsafe-file').
 */
export function zipEntryBytes(
  bytes: Uint8Array,
  name: string,
  fileName: string,
  mostRatio: number = usualRatio,
): Uint8Array | null {
  let taken = false
  const files = walk(bytes, fileName, (entry) => {
    if (taken || entry.name !== name) return false
    taken = true
    const swollen = entry.originalSize > ratioMattersFrom && entry.originalSize > entry.size * mostRatio
    if (entry.originalSize > mostBytes || swollen) {
      throw new SurveyError(
        'unsafe-file',
        `${fileName}: ${name.slice(0, 80)} would swell to ${Math.round(entry.originalSize / 2 ** 20)} MiB; unpack it yourself and import what it holds.`,
      )
    }
    return true
  })
  return files[name] ?? null
}

/** Whether a name points outside the archive: absolute, with a drive, or with `..` in it. */
export function escapes(name: string): boolean {
  return /^[/\\]|^[A-Za-z]:|(^|[/\\])\.\.([/\\]|$)/.test(name)
}

function walk(
  bytes: Uint8Array,
  fileName: string,
  filter: (entry: UnzipFileInfo) => boolean,
): Readonly<Record<string, Uint8Array>> {
  let count = 0
  try {
    return unzipSync(bytes, {
      filter: (entry) => {
        count++
        if (count > mostEntries) {
          throw new SurveyError(
            'unsafe-file',
            `${fileName} lists more than ${mostEntries} files; it was not unpacked.`,
          )
        }
        return filter(entry)
      },
    })
  } catch (cause) {
    if (cause instanceof SurveyError) throw cause
    throw new SurveyError(
      'broken-file',
      `${fileName} is a damaged zip archive; get it again from where it came.`,
      {
        cause,
      },
    )
  }
}
