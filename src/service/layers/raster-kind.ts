import { closeSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import { gunzipSync } from 'node:zlib'
import { isWorldFileName } from '#formats/worldfile'

/** Files that make layers, or belong to one. */
export type RasterKind = 'jpeg' | 'png' | 'tiff' | 'ascii-grid' | 'world-file' | 'coordinate-system'

const headBytes = 1024

/** Published signatures: JPEG (ITU T.81 B.1), PNG (ISO 15948), TIFF 6.0 and BigTIFF in either order of bytes. */
const signatures: readonly (readonly [string, RasterKind])[] = [
  ['ffd8ff', 'jpeg'],
  ['89504e470d0a1a0a', 'png'],
  ['49492a00', 'tiff'],
  ['4d4d002a', 'tiff'],
  ['49492b00', 'tiff'],
  ['4d4d002b', 'tiff'],
]

/** Keys that an ESRI ASCII grid begins with, in any order and case. */
const gridKeys = /^\s*(ncols|nrows|xllcorner|xllcenter|yllcorner|yllcenter|cellsize|dx|dy|nodata_value)\s+\S/i
const systemWords = /^\s*(PROJCS|GEOGCS|COMPD_CS|PROJCRS|GEOGCRS|COMPOUNDCRS|EPSG)\s*[[(:]/i

/**
 * What a file is by its first bytes; null where it is none of these. World files and .prj files hold nothing that would tell them, so for
 * them the name is asked too. Cost: reads a kilobyte.
 */
export function rasterKindOf(name: string, file: string): RasterKind | null {
  const head = headOf(file)
  const hex = head.subarray(0, 8).toString('hex')
  const known = signatures.find(([signature]) => hex.startsWith(signature))
  if (known) return known[1]
  const text = (isGzip(head) ? unpackedStart(head) : head)
    .toString('latin1')
    .replace(/^\u00ef\u00bb\u00bf/, '')
  if (gridKeys.test(text)) return 'ascii-grid'
  const end = path.extname(name).toLowerCase()
  if (end === '.prj' && systemWords.test(text)) return 'coordinate-system'
  return isWorldFileName(name) && !text.includes('\0') ? 'world-file' : null
}

function headOf(file: string): Buffer {
  const fd = openSync(file, 'r')
  try {
    const head = Buffer.alloc(headBytes)
    return head.subarray(0, readSync(fd, head, 0, headBytes, 0))
  } finally {
    closeSync(fd)
  }
}

const isGzip = (head: Buffer): boolean => head[0] === 0x1f && head[1] === 0x8b

/** As much of a gzip's content as its first kilobyte holds. */
function unpackedStart(head: Buffer): Buffer {
  try {
    return gunzipSync(head, { finishFlush: 2, maxOutputLength: 1 << 20 })
  } catch {
    return Buffer.alloc(0)
  }
}
