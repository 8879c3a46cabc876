import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import { inflateSync, constants as zlib, zstdDecompressSync } from 'node:zlib'
import { type GeoTiffHeader, type RandomBytes, readGeoTiff, type Unpackers } from '#formats/geotiff'

/** Runs `work` with a file of which any part can be read. Faults: those of the disk, and of `work`. */
export function withFile<Result>(file: string, work: (bytes: RandomBytes) => Result): Result {
  const fd = openSync(file, 'r')
  try {
    return work({ size: fstatSync(fd).size, read: (at, length) => readPart(fd, at, length) })
  } finally {
    closeSync(fd)
  }
}

/** The same for work that takes turns. */
export async function withFileAsync<Result>(
  file: string,
  work: (bytes: RandomBytes) => Promise<Result>,
): Promise<Result> {
  const fd = openSync(file, 'r')
  try {
    return await work({ size: fstatSync(fd).size, read: (at, length) => readPart(fd, at, length) })
  } finally {
    closeSync(fd)
  }
}

function readPart(fd: number, at: number, length: number): Uint8Array {
  const bytes = new Uint8Array(length)
  let done = 0
  while (done < length) {
    const got = readSync(fd, bytes, done, length - done, at + done)
    if (got === 0) break
    done += got
  }
  return bytes.subarray(0, done)
}

/** What a TIFF's header says. Cost: some milliseconds; nothing of its pixels is read. */
export const tiffHeader = (name: string, file: string): GeoTiffHeader =>
  withFile(file, (bytes) => readGeoTiff(bytes, { fileName: name }))

/** Packed pieces by zlib. A stream that breaks off gives what came before. */
export const nodeUnpackers: Unpackers = {
  inflate: (packed, most) =>
    inflateSync(packed, { maxOutputLength: Math.max(1, most), finishFlush: zlib.Z_SYNC_FLUSH }),
  zstd: (packed, most) => zstdDecompressSync(packed, { maxOutputLength: Math.max(1, most) }),
}
