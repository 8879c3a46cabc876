import { Gunzip } from 'fflate'
import { SurveyError } from '#core/faults'
import { type ByteSource, chunksOf, type Progress } from '#formats/bytes'
import type { FaultList } from '#formats/fault-list'

/** Small pieces in, so that no single step can swell past some 16 MiB (deflate packs at most 1032 to 1). */
const step = 1 << 14
const mostBytes = 2 ** 30
/** Packed GPX holds 10 to 30 times its size; what exceeds this, once it is large, is made to swell. */
const mostRatio = 250
const ratioMattersFrom = 2 ** 24

/**
 * The content of a gzip file (RFC 1952), piece by piece. Where it is damaged or cut short, what was unpacked before stands
 * and a fault is noted. Faults: SurveyError('unsafe-file') above 1 GiB, or above 250 times the packed size.
 */
export function* gunzipped(
  source: ByteSource,
  fileName: string,
  faults: FaultList,
  progress?: Progress,
): Generator<Uint8Array> {
  let ready: Uint8Array[] = []
  let packed = 0
  let unpacked = 0
  const gunzip = new Gunzip((piece) => {
    ready.push(piece)
    unpacked += piece.length
  })
  for (const chunk of chunksOf(source, progress)) {
    for (let from = 0; from < chunk.length; from += step) {
      const part = chunk.slice(from, from + step)
      packed += part.length
      if (!pushed(gunzip, part, false, faults)) return
      yield* ready
      ready = []
      const swollen = unpacked > ratioMattersFrom && unpacked > packed * mostRatio
      if (unpacked > mostBytes || swollen) {
        throw new SurveyError(
          'unsafe-file',
          `${fileName} swells to more than ${swollen ? `${mostRatio} times its size` : '1 GiB'}; unpack it yourself and import what it holds.`,
        )
      }
    }
  }
  pushed(gunzip, new Uint8Array(0), true, faults)
  yield* ready
}

function pushed(gunzip: Gunzip, part: Uint8Array<ArrayBuffer>, last: boolean, faults: FaultList): boolean {
  try {
    gunzip.push(part, last)
    return true
  } catch {
    faults.note(null, 'broken-file', 'The packed data is damaged or cut short; what came before was kept.')
    return false
  }
}
