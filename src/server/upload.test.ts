import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { receive, withUpload } from './upload.ts'

const place = { temporaryFolder: '/temporary', limitBytes: 100 }

async function* chunks(count: number, seen: { read: number }): AsyncGenerator<Uint8Array> {
  for (let i = 0; i < count; i++) {
    seen.read += 1
    yield new Uint8Array(10)
  }
}

/** A file on a disk with room for so many bytes; the error is Node's own (errno ENOSPC). */
function fileWithRoom(bytes: number): {
  appendFile: (chunk: unknown) => Promise<void>
  written: () => number
} {
  let written = 0
  return {
    written: () => written,
    appendFile: async (chunk) => {
      const { length } = chunk as Uint8Array
      if (written + length > bytes)
        throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' })
      written += length
    },
  }
}

test('a full disk is said as such, and the rest of the stream is read and dropped', async () => {
  const seen = { read: 0 }
  const file = fileWithRoom(25)
  await expect(receive(chunks(8, seen), file, 'walk.gpx', place)).rejects.toMatchObject({
    code: 'disk-full',
    message:
      'walk.gpx was not read: the disk that holds /temporary is full. Make room and bring the file in again.',
  })
  expect(seen.read).toBe(8)
  expect(file.written()).toBe(20)
})

test('the limit itself is allowed, one byte more is not', async () => {
  const seen = { read: 0 }
  const file = fileWithRoom(1000)
  await receive(chunks(10, seen), file, 'walk.gpx', place)
  expect(file.written()).toBe(100)
  const over = receive(chunks(20, seen), fileWithRoom(1000), 'walk.gpx', place)
  await expect(over).rejects.toMatchObject({ code: 'file-too-large' })
  expect(seen.read).toBe(30)
})

test('a stream that breaks is a sender who broke off', async () => {
  async function* broken(): AsyncGenerator<Uint8Array> {
    yield new Uint8Array(1)
    throw new Error('aborted')
  }
  const received = receive(broken(), fileWithRoom(1000), 'walk.gpx', place)
  await expect(received).rejects.toMatchObject({ code: 'cancelled' })
})

test('the file is gone whether its use ends well or not', async () => {
  const temporaryFolder = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
  const real = { temporaryFolder, limitBytes: 1000 }
  const seen = { read: 0 }
  const during = await withUpload(chunks(2, seen), 'a', real, async () => readdirSync(temporaryFolder).length)
  expect([during, readdirSync(temporaryFolder).length]).toEqual([1, 0])
  const failing = withUpload(chunks(2, seen), 'a', real, () => Promise.reject(new RangeError('use failed')))
  await expect(failing).rejects.toThrow('use failed')
  await expect(withUpload(chunks(200, seen), 'a', real, async () => 1)).rejects.toThrow()
  expect(readdirSync(temporaryFolder)).toEqual([])
  rmSync(temporaryFolder, { recursive: true })
})
