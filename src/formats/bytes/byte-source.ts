/** A file: whole, or its pieces in order. An iterable is run through once. */
export type ByteSource = Uint8Array | Iterable<Uint8Array>

/** Told how many bytes have been read so far. */
export type Progress = (done: number) => void

const pieceBytes = 1 << 18

/** The bytes in pieces of at most 256 KiB, none empty, with `progress` told after each. */
export function* chunksOf(source: ByteSource, progress?: Progress): Generator<Uint8Array> {
  let done = 0
  for (const whole of source instanceof Uint8Array ? [source] : source) {
    for (let from = 0; from < whole.length; from += pieceBytes) {
      const piece = whole.subarray(from, from + pieceBytes)
      yield piece
      done += piece.length
      progress?.(done)
    }
  }
}

/**
 * The first `atLeast` bytes (fewer in a shorter file), and a source that still starts with them. The pieces looked at are
 * held until that source is read.
 */
export function headOf(source: ByteSource, atLeast: number): { head: Uint8Array; source: ByteSource } {
  if (source instanceof Uint8Array) return { head: source.subarray(0, atLeast), source }
  const pieces: Uint8Array[] = []
  let length = 0
  const iterator = source[Symbol.iterator]()
  let step = iterator.next()
  while (!step.done) {
    pieces.push(step.value)
    length += step.value.length
    if (length >= atLeast) break
    step = iterator.next()
  }
  const rest: Iterable<Uint8Array> = { [Symbol.iterator]: () => iterator }
  function* again(): Generator<Uint8Array> {
    yield* pieces
    if (!step.done) yield* rest
  }
  return { head: joined(pieces, length).subarray(0, atLeast), source: again() }
}

/** The whole file in one array; no copy where it is one already. Memory: the file once more for an iterable. */
export function bytesFrom(source: ByteSource): Uint8Array {
  if (source instanceof Uint8Array) return source
  const pieces = [...source]
  return joined(
    pieces,
    pieces.reduce((sum, piece) => sum + piece.length, 0),
  )
}

function joined(pieces: readonly Uint8Array[], length: number): Uint8Array {
  const all = new Uint8Array(length)
  let at = 0
  for (const piece of pieces) {
    all.set(piece, at)
    at += piece.length
  }
  return all
}
