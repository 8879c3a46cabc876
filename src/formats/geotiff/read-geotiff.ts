import type { FileFault } from '#core/faults'
import type { GroundLines } from '#core/imagery'
import { decimal } from '#formats/decimal'
import { type GeoSystem, geoSystem } from './geo-keys.ts'
import { geoPlacing } from './geo-placing.ts'
import type { RandomBytes } from './random-bytes.ts'
import { numbersAt, readDirectories, TiffBytes, type TiffDirectory, textAt } from './tiff-directory.ts'
import { type TiffPicture, tiffPicture } from './tiff-picture.ts'
import { TiffTrouble } from './tiff-trouble.ts'

/** What the header of a TIFF says; its pixels are not looked at. */
export interface GeoTiff {
  readonly little: boolean
  readonly big: boolean
  /** The finest picture; overviews and masks are others. */
  readonly picture: TiffPicture
  /** The value that means "no data", NaN among them; null for none. */
  readonly noData: number | null
  /** What a stored value is in the file's own unit: value * scale + offset, of the first band. */
  readonly scale: number
  readonly offset: number
  readonly system: GeoSystem
  /** Where it lies, in its system; null where its tags do not say. */
  readonly lines: GroundLines | null
  /** Degrees by which its columns are turned from the system's eastings, anticlockwise; 0 for most. */
  readonly turnedDeg: number
  /** A picture of one bit a pixel beside the finest one, that says which of its pixels count; null for none. */
  readonly mask: TiffPicture | null
  /** Tables that all pieces packed by JPEG share; null for none. */
  readonly jpegTables: Uint8Array | null
  /** Colours of a palette: red, green, blue of 0 to 255, for each value; null where the picture has none. */
  readonly palette: Uint8Array | null
}

export interface GeoTiffHeader {
  /** Null where the file could not be understood; then a fault says why. */
  readonly tiff: GeoTiff | null
  readonly faults: readonly FileFault[]
}

/**
 * Reads the header of a TIFF or BigTIFF in either order of bytes, cloud-optimised or not. Nothing is read but its directories and the tables
 * that they lead to, each of which is checked against the length of the file first.
 *
 * CRS     as stated: `system.epsg`, or a text; none is assumed.
 * Source  TIFF 6.0; OGC GeoTIFF 1.1; tags 42112 and 42113 as GDAL writes them.
 * Cost    some kilobytes read, and 8 or 16 bytes for each strip or tile.
 */
export function readGeoTiff(file: RandomBytes, { fileName }: { readonly fileName: string }): GeoTiffHeader {
  try {
    const { little, big, directories } = readDirectories(file)
    const bytes = new TiffBytes(file, little)
    const kinds = directories.map((directory) => numbersAt(bytes, directory, 254, 1)[0] ?? 0)
    const main = Math.max(
      0,
      kinds.findIndex((kind) => (kind & 5) === 0),
    )
    const directory = directories[main]!
    const picture = tiffPicture(bytes, directory)
    const system = geoSystem(bytes, directory)
    const { lines, controlPoints } = geoPlacing(bytes, directory, system.pixelIsPoint)
    const faults = notesOf(fileName, { lines, controlPoints })
    const turnedDeg = lines ? turnOf(lines) : 0
    const values = valuesOf(bytes, directory)
    const mask = maskOf(bytes, directories, kinds, picture)
    const tables = numbersAt(bytes, directory, 347, mostTableBytes)
    const jpegTables = tables.length > 0 ? Uint8Array.from(tables) : null
    const palette = picture.photometric === 3 ? paletteOf(bytes, directory) : null
    const parts = { picture, mask, jpegTables, palette, system, lines, turnedDeg }
    return { tiff: { little, big, ...values, ...parts }, faults }
  } catch (error) {
    if (!(error instanceof TiffTrouble)) throw error
    return { tiff: null, faults: [{ line: null, code: error.code, text: sentence(fileName, error) }] }
  }
}

const mostTableBytes = 100_000
const mostColours = 3 * 65_536

/** The mask that has the size of the picture; one that cannot be read is none. */
function maskOf(
  bytes: TiffBytes,
  directories: readonly TiffDirectory[],
  kinds: readonly number[],
  picture: TiffPicture,
): TiffPicture | null {
  for (const [i, directory] of directories.entries()) {
    if ((kinds[i]! & 5) !== 4) continue
    try {
      const mask = tiffPicture(bytes, directory)
      const same = mask.columns === picture.columns && mask.rows === picture.rows
      if (same && mask.samples === 1 && mask.sampleType === 'bits1') return mask
    } catch (error) {
      if (!(error instanceof TiffTrouble)) throw error
    }
  }
  return null
}

/** Tag 320: all reds, all greens, all blues, of 16 bits; side by side here, of 8. */
function paletteOf(bytes: TiffBytes, directory: TiffDirectory): Uint8Array {
  const map = numbersAt(bytes, directory, 320, mostColours)
  const colours = Math.floor(map.length / 3)
  return Uint8Array.from({ length: 3 * colours }, (_, i) => map[(i % 3) * colours + Math.floor(i / 3)]! >> 8)
}

function sentence(fileName: string, { code, message }: TiffTrouble): string {
  if (code === 'unsupported-feature')
    return `${fileName} cannot be read here: ${message}; save it in another way.`
  return `${fileName} is damaged: ${message}; copy or export it again.`
}

/** Tags 42113 and 42112 are texts that GDAL writes: a number, and some XML of items. */
function valuesOf(bytes: TiffBytes, directory: TiffDirectory): Pick<GeoTiff, 'noData' | 'scale' | 'offset'> {
  const said = textAt(bytes, directory, 42_113).replace(/\0.*$/s, '').trim()
  const number = /^[+-]?nan$/i.test(said) ? Number.NaN : decimal(said)
  const noData = /nan/i.test(said) || Number.isFinite(number) ? number : null
  const items = textAt(bytes, directory, 42_112)
  return { noData, scale: itemOf(items, 'scale') || 1, offset: itemOf(items, 'offset') }
}

function itemOf(items: string, role: string): number {
  for (const [, attributes = '', value = ''] of items.matchAll(/<Item\b([^<>]*)>([^<>]{1,40})<\/Item>/g)) {
    const first = !/\bsample="[1-9]/.test(attributes)
    if (first && attributes.includes(`role="${role}"`)) return decimal(value) || 0
  }
  return 0
}

function turnOf({ eastingPerColumn, northingPerColumn }: GroundLines): number {
  const degrees = (Math.atan2(northingPerColumn, eastingPerColumn) * 180) / Math.PI
  return Math.abs(degrees) < 1e-9 ? 0 : degrees
}

/** What a person must be told of a header that could be read. */
function notesOf(
  fileName: string,
  found: { readonly lines: GroundLines | null; readonly controlPoints: number },
): FileFault[] {
  const { lines, controlPoints } = found
  const notes: FileFault[] = []
  const note = (code: FileFault['code'], text: string): void => void notes.push({ line: null, code, text })
  const turned = lines ? turnOf(lines) : 0
  if (turned !== 0) {
    const by = Math.abs(turned).toFixed(Math.abs(turned) < 1 ? 3 : 1)
    note(
      'assumed',
      `${fileName} is turned by ${by} degrees against its grid, as its own tags say; it is laid so.`,
    )
  }
  if (!lines && controlPoints > 1) {
    const text = `${fileName} is tied to the ground by ${controlPoints} control points and not by a placing, which is not read: have it rectified first, or place it by tie points.`
    note('unsupported-feature', text)
  }
  return notes
}
