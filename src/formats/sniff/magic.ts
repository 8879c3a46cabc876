/** Kinds of file told by their first bytes that hold nothing a survey reads this way, as people call them. */
const magics: readonly (readonly [string, string])[] = [
  ['ffd8ff', 'a JPEG picture'],
  ['89504e47', 'a PNG picture'],
  ['47494638', 'a GIF picture'],
  ['49492a00', 'a TIFF picture or terrain model'],
  ['4d4d002a', 'a TIFF picture or terrain model'],
  ['49492b00', 'a TIFF picture or terrain model'],
  ['25504446', 'a PDF document'],
  ['53514c69746520666f726d6174203300', 'an SQLite database, perhaps a GeoPackage'],
  ['0000270a', 'one part of a shapefile; put all its parts into one zip'],
  ['d0cf11e0', 'an old office document; save the table as CSV'],
  ['7b5c727466', 'a text document with formatting; save it as plain text'],
  ['377abcaf271c', 'a 7-Zip archive; unpack it first'],
  ['526172211a07', 'a RAR archive; unpack it first'],
  ['425a68', 'a bzip2 archive; unpack it first'],
  ['fd377a585a00', 'an xz archive; unpack it first'],
  ['7f454c46', 'a program'],
  ['4d5a', 'a program'],
]

const hex = (bytes: Uint8Array): string =>
  Array.from(bytes.subarray(0, 16), (byte) => byte.toString(16).padStart(2, '0')).join('')

/** What a file is that cannot be read, by its first bytes (published signatures of the formats); null if they say nothing. */
export function knownStranger(head: Uint8Array): string | null {
  const start = hex(head)
  if (start.slice(16, 24) === '2e464954') return 'a FIT file; export the track as GPX'
  return magics.find(([magic]) => start.startsWith(magic))?.[1] ?? null
}

export const isGzip = (head: Uint8Array): boolean => head[0] === 0x1f && head[1] === 0x8b
export const isZip = (head: Uint8Array): boolean =>
  head[0] === 0x50 && head[1] === 0x4b && (head[2] === 3 || head[2] === 5) && (head[3] === 4 || head[3] === 6)
