/**
 * Unpacks PackBits: a byte below 128 goes before that many bytes and one, one above 128 before a byte that stands 257 less so many times.
 * Gives how many bytes it wrote. Source: TIFF 6.0 section 9.
 */
export function unpackRuns(packed: Uint8Array, out: Uint8Array): number {
  let [at, done] = [0, 0]
  while (at < packed.length && done < out.length) {
    const head = packed[at++]!
    if (head === 128) continue
    if (head < 128) {
      const literal = packed.subarray(at, at + Math.min(head + 1, out.length - done))
      out.set(literal, done)
      at += head + 1
      done += literal.length
    } else {
      const end = Math.min(out.length, done + 257 - head)
      out.fill(packed[at++] ?? 0, done, end)
      done = end
    }
  }
  return done
}
