import { createHash } from 'node:crypto'
import { readFile as readBytes } from 'node:fs/promises'
import type { FileContent } from '#core/record'
import { readFile } from '#formats/sniff'
import { serve } from './worker-side.ts'

export interface ReadInput {
  readonly name: string
  readonly path: string
  /** The grid that plain eastings and northings are in, where the survey has one. */
  readonly epsg?: number
}

export interface ReadOutcome {
  readonly bytes: Uint8Array
  readonly sha256: string
  readonly content: FileContent
}

await serve<ReadInput, ReadOutcome>(async ({ name, path, epsg }, progress) => {
  progress(0, `reading ${name}`)
  const buffer = await readBytes(path)
  const bytes = new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.byteLength)
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const content = readFile(name, bytes, {
    progress: (done) => progress(Math.min(1, done / bytes.length), `reading ${name}`),
    ...(epsg === undefined ? {} : { epsg }),
  })
  return { bytes, sha256, content }
})
