import { type ByteSource, chunksOf, headOf, type Progress } from './byte-source.ts'

/** Bytes that are not text in the encoding the file has or states, told once a file. */
export interface BadBytes {
  readonly sentence: string
  /** Line breaks in this piece of text before the first such byte. */
  readonly linesInto: number
}

const headBytes = 1024

/**
 * The text of a file, piece by piece, without its byte order mark.
 *
 * The encoding is that of the byte order mark; else UTF-16 where every other byte of the start is zero; else the one an
 * XML declaration states (`iso-8859-1` and `latin1` are read as Windows-1252, as the WHATWG Encoding Standard has it);
 * else UTF-8. Where nothing said UTF-8 and the bytes are not, the rest is read as Windows-1252, which older programs
 * wrote; where the file did say so, the bad bytes become U+FFFD. Either way `onBadBytes` is told, once.
 *
 * Cost: one pass; memory of one piece (256 KiB).
 */
export function* decodedText(
  source: ByteSource,
  onBadBytes: (bad: BadBytes) => void,
  progress?: Progress,
): Generator<string> {
  const { head, source: all } = headOf(source, headBytes)
  const { encoding, stated, mark } = encodingOf(head)
  const label = usableLabel(encoding)
  if (label === null) {
    const sentence = `The file states the encoding "${encoding.slice(0, 40)}", which is not known; it was read as UTF-8.`
    onBadBytes({ sentence, linesInto: 0 })
  }
  const chunks = withoutMark(chunksOf(all, progress), mark)
  if (label === null || label === 'utf-8') yield* utf8Text(chunks, stated, onBadBytes)
  else yield* streamedText(chunks, label)
}

function encodingOf(head: Uint8Array): { encoding: string; stated: boolean; mark: number } {
  const [a, b, c, d] = head
  if (a === 0xef && b === 0xbb && c === 0xbf) return { encoding: 'utf-8', stated: true, mark: 3 }
  if (a === 0xff && b === 0xfe) return { encoding: 'utf-16le', stated: true, mark: 2 }
  if (a === 0xfe && b === 0xff) return { encoding: 'utf-16be', stated: true, mark: 2 }
  if (a && b === 0 && c && d === 0) return { encoding: 'utf-16le', stated: true, mark: 0 }
  if (a === 0 && b && c === 0 && d) return { encoding: 'utf-16be', stated: true, mark: 0 }
  const ascii = String.fromCharCode(...head)
  const declared = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([^"'<>]*)["']/
    .exec(ascii)?.[1]
    ?.trim()
    .toLowerCase()
  // Bytes that spell out a declaration one by one are not UTF-16, whatever it says.
  if (!declared || /^(utf-?16|ucs-?2|utf-?32)/.test(declared)) {
    return { encoding: 'utf-8', stated: false, mark: 0 }
  }
  return { encoding: declared, stated: true, mark: 0 }
}

function usableLabel(encoding: string): string | null {
  try {
    return new TextDecoder(encoding).encoding
  } catch {
    return null
  }
}

function* withoutMark(chunks: Iterable<Uint8Array>, mark: number): Generator<Uint8Array> {
  let left = mark
  for (const chunk of chunks) {
    const cut = Math.min(left, chunk.length)
    left -= cut
    if (cut < chunk.length) yield chunk.subarray(cut)
  }
}

function* streamedText(chunks: Iterable<Uint8Array>, label: string): Generator<string> {
  const decoder = new TextDecoder(label, { ignoreBOM: true })
  for (const chunk of chunks) {
    const text = decoder.decode(chunk, { stream: true })
    if (text !== '') yield text
  }
  const last = decoder.decode()
  if (last !== '') yield last
}

/** Bytes at the end of a piece that begin a character of UTF-8 but do not finish it. */
function unfinished(bytes: Uint8Array): number {
  for (let back = 1; back <= 3 && back <= bytes.length; back++) {
    const byte = bytes[bytes.length - back]!
    if (byte < 0x80) return 0
    if (byte >= 0xc0) return back < (byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2) ? back : 0
  }
  return 0
}

/** Whole characters only in each piece, so that a piece which is not UTF-8 can be decoded anew on its own. */
function* wholeCharacters(chunks: Iterable<Uint8Array>): Generator<Uint8Array> {
  let carried = new Uint8Array(0)
  for (const chunk of chunks) {
    let bytes = chunk
    if (carried.length > 0) {
      bytes = new Uint8Array(carried.length + chunk.length)
      bytes.set(carried)
      bytes.set(chunk, carried.length)
    }
    const cut = bytes.length - unfinished(bytes)
    carried = bytes.slice(cut)
    if (cut > 0) yield bytes.subarray(0, cut)
  }
  if (carried.length > 0) yield carried
}

function* utf8Text(
  chunks: Iterable<Uint8Array>,
  stated: boolean,
  onBadBytes: (bad: BadBytes) => void,
): Generator<string> {
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
  const lenient = new TextDecoder('utf-8', { ignoreBOM: true })
  const fallback = stated ? lenient : new TextDecoder('windows-1252')
  const sentence = stated
    ? 'Some bytes are not UTF-8, though the file says it is; they show as \uFFFD.'
    : 'From here on the text is not UTF-8; it was read as Windows-1252.'
  let decoder = strict
  for (const bytes of wholeCharacters(chunks)) {
    try {
      yield decoder.decode(bytes)
    } catch (cause) {
      if (!(cause instanceof TypeError) || decoder !== strict) throw cause
      decoder = fallback
      const before = lenient.decode(bytes).split('\uFFFD', 1)[0]!
      onBadBytes({ sentence, linesInto: before.split('\n').length - 1 })
      yield decoder.decode(bytes)
    }
  }
}
