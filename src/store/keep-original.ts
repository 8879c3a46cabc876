import { findOriginal } from './originals.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** Adds a file's bytes to the originals; its id. */
export function addOriginal(writer: Writer, file: OriginalFile, uuid: () => string): number {
  return writer.insert('originals', {
    uuid: uuid(),
    name: file.name,
    kind: file.kind,
    sha256: file.sha256,
    size: file.bytes.length,
    imported_at: writer.now,
    bytes: file.bytes,
  })
}

/** The id of the original with these bytes, added where there is none. */
export function keepOriginal(writer: Writer, file: OriginalFile, uuid: () => string): number {
  return findOriginal(writer.on, file.sha256)?.id ?? addOriginal(writer, file, uuid)
}
