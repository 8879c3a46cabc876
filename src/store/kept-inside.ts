import { findOriginal } from './originals.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** The row of an original with these bytes, added where there is none. */
export function keptInside(writer: Writer, file: OriginalFile, uuid: () => string): number {
  const known = findOriginal(writer.on, file.sha256)
  if (known !== null) return known.id
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
