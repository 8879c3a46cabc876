export type PictureKind = 'jpeg' | 'png' | 'webp' | 'tiff' | 'heic' | 'avif' | 'gif'

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to))

/** The kind of a picture by its first bytes, whatever its name says; null for anything else. Twelve bytes are enough. */
export function pictureKind(bytes: Uint8Array): PictureKind | null {
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg'
  if (ascii(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return 'png'
  if (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 12) === 'WEBP') return 'webp'
  if (ascii(bytes, 0, 4) === 'II*\0' || ascii(bytes, 0, 4) === 'MM\0*') return 'tiff'
  if (ascii(bytes, 0, 4) === 'GIF8') return 'gif'
  if (ascii(bytes, 4, 8) !== 'ftyp') return null
  const brand = ascii(bytes, 8, 12)
  if (/^(?:hei[cxms]|hev[cxms]|mif1|msf1)$/.test(brand)) return 'heic'
  return /^avi[fs]$/.test(brand) ? 'avif' : null
}
