/** A file of which any part can be read. */
export interface RandomBytes {
  /** Bytes. */
  readonly size: number
  /** The bytes from `at` on, `length` of them; fewer where the file ends before. */
  read(at: number, length: number): Uint8Array
}

/** A file that is held whole. */
export function randomBytes(bytes: Uint8Array): RandomBytes {
  return { size: bytes.length, read: (at, length) => bytes.subarray(at, at + length) }
}
