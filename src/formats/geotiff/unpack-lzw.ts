import { TiffTrouble } from './tiff-trouble.ts'

const [clearCode, endCode, firstCode, mostCodes] = [256, 257, 258, 4096]

/**
 * Unpacks LZW as TIFF has it: codes of 9 to 12 bits, the highest bit first, one width wider one code early. Ends with the packed bytes or when `out`
 * is full, and gives how many bytes it wrote.
 *
 * Method  each code's string is its own place in `out`, where it was written last: no table of strings.
 * Source  TIFF 6.0 section 13.
 * Faults  TiffTrouble for a code that does not exist yet.
 */
export function unpackLzw(packed: Uint8Array, out: Uint8Array): number {
  const starts = new Uint32Array(mostCodes)
  const lengths = new Uint32Array(mostCodes)
  let [next, width, bits, held, done] = [firstCode, 9, 0, 0, 0]
  let [previousAt, previousLength] = [0, 0]
  let at = 0
  while (done < out.length) {
    while (bits < width && at < packed.length) {
      held = ((held << 8) | packed[at++]!) & 0xff_ffff
      bits += 8
    }
    if (bits < width) break
    bits -= width
    const code = (held >>> bits) & ((1 << width) - 1)
    if (code === endCode) break
    if (code === clearCode) {
      next = firstCode
      width = 9
      previousLength = 0
      continue
    }
    const here = done
    if (code < 256) out[done++] = code
    else {
      const known = code < next
      if (previousLength === 0 || (!known && code !== next))
        throw new TiffTrouble('broken-file', 'its packed pixels make no sense')
      const from = known ? starts[code]! : previousAt
      const length = known ? lengths[code]! : previousLength + 1
      const end = Math.min(out.length, done + length)
      // A string may reach into what is being written, so byte by byte.
      for (let i = from; done < end; i++) out[done++] = out[i]!
    }
    if (previousLength > 0 && next < mostCodes) {
      starts[next] = previousAt
      lengths[next] = previousLength + 1
      next += 1
      if (next + 1 >= 1 << width && width < 12) width += 1
    }
    previousAt = here
    previousLength = done - here
  }
  return done
}
