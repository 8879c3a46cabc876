import type { SampleType } from './tiff-picture.ts'
import type { PieceBytes } from './tiff-pieces.ts'

export type Values =
  | Uint8Array
  | Int8Array
  | Uint16Array
  | Int16Array
  | Uint32Array
  | Int32Array
  | Float32Array
  | Float64Array

const hostIsLittle = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1

/** The values that the bytes of a piece spell, whose bytes are turned round in place where the machine wants it. Faults: RangeError for values of odd bits. */
export function pieceValues({ bytes, little }: PieceBytes, type: SampleType, sampleBytes: number): Values {
  if (little !== hostIsLittle) turnBytes(bytes, sampleBytes)
  const { buffer, byteOffset, byteLength } = bytes
  const count = byteLength / sampleBytes
  if (type === 'uint8') return bytes
  if (type === 'int8') return new Int8Array(buffer, byteOffset, count)
  if (type === 'uint16') return new Uint16Array(buffer, byteOffset, count)
  if (type === 'int16') return new Int16Array(buffer, byteOffset, count)
  if (type === 'uint32') return new Uint32Array(buffer, byteOffset, count)
  if (type === 'int32') return new Int32Array(buffer, byteOffset, count)
  if (type === 'float32') return new Float32Array(buffer, byteOffset, count)
  if (type === 'float64') return new Float64Array(buffer, byteOffset, count)
  throw new RangeError(`values of ${type} are not whole bytes`)
}

function turnBytes(bytes: Uint8Array, size: number): void {
  for (let at = 0; at + size <= bytes.length; at += size)
    for (let low = at, high = at + size - 1; low < high; low++, high--) {
      const byte = bytes[low]!
      bytes[low] = bytes[high]!
      bytes[high] = byte
    }
}
