import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { pictureInProcess, wholeInProcess } from './pyramid.ts'
import { fileHash } from './pyramid-hash.ts'
import { PictureReader } from './pyramid-reader.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'pictures-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const at = (name: string): string => path.join(folder, name)
const look = (name: string) =>
  pictureInProcess({ file: at(name), name, folder: mkdtempSync(at('made-')) }, { temporaryFolder: folder })

/** A ramp: band b of pixel (x, y) is (x + 2 y + 40 b) mod 256. */
function ramp(width: number, height: number, channels: 1 | 2 | 3 | 4) {
  const pixels = new Uint8Array(width * height * channels)
  for (let i = 0; i < pixels.length; i++) {
    const pixel = Math.floor(i / channels)
    pixels[i] = (pixel % width) + 2 * Math.floor(pixel / width) + 40 * (i % channels)
  }
  return sharp(pixels, { raw: { width, height, channels } })
}

test('a small picture is whole at once, and every value of it stays what it was', async () => {
  await ramp(300, 200, 3).png().toFile(at('small.png'))
  const made = mkdtempSync(at('made-'))
  const looked = await pictureInProcess(
    { file: at('small.png'), name: 'small.png', folder: made },
    { temporaryFolder: folder },
  )
  expect(looked).toMatchObject({
    format: 'png',
    form: { columns: 300, rows: 200, channels: 3, alpha: false, sampleType: 'uint8' },
    sha256: await fileHash(at('small.png')),
    size: readFileSync(at('small.png')).length,
    planes: { columns: 300, rows: 200, whole: true },
    damage: null,
  })
  const reader = await PictureReader.open(made, looked.planes, null)
  expect(reader.levels.map(({ columns, rows }) => [columns, rows])).toEqual([
    [300, 200],
    [150, 100],
  ])
  const { bands } = await reader.read(0, { left: 290, top: 190, width: 10, height: 10 })
  expect(bands.map((band) => band[99])).toEqual(
    [299 + 398, 299 + 398 + 40, 299 + 398 + 80].map((v) => v % 256),
  )
})

test('a large picture comes with an overview first; the whole follows, unless the file was exchanged meanwhile', async () => {
  await ramp(5200, 2000, 3).jpeg().toFile(at('large.jpg'))
  const made = mkdtempSync(at('made-'))
  const input = { file: at('large.jpg'), name: 'large.jpg', folder: made }
  const looked = await pictureInProcess(input, { temporaryFolder: folder })
  expect(looked.planes).toMatchObject({ columns: 5200, rows: 2000, whole: false })
  const overview = await PictureReader.open(made, looked.planes, null)
  expect(overview.levels[0]).toEqual({ columns: 1300, rows: 500, scaleX: 4, scaleY: 4 })
  const told: number[] = []
  const wish = { ...input, form: looked.form, sha256: looked.sha256 }
  const whole = await wholeInProcess(wish, { temporaryFolder: folder, progress: (done) => told.push(done) })
  expect(whole.whole).toBe(true)
  expect(told.every((done, i) => done <= 1 && done >= (told[i - 1] ?? 0))).toBe(true)
  expect((await PictureReader.open(made, whole, null)).levels[0]).toMatchObject({ columns: 5200, rows: 2000 })
  writeFileSync(at('large.jpg'), readFileSync(at('small.png')))
  await expect(wholeInProcess(wish, { temporaryFolder: folder })).rejects.toMatchObject({ code: 'not-found' })
})

test('16 bits stay 16 bits, grey stays one band, alpha is apart', async () => {
  const values = Uint16Array.from({ length: 64 * 64 }, (_, i) => i * 15)
  const wide = sharp(values, { raw: { width: 64, height: 64, channels: 1 } })
  await wide.toColourspace('grey16').png().toFile(at('wide.png'))
  await ramp(64, 64, 4).png().toFile(at('clear.png'))
  const cases = [
    ['wide.png', 1, [1000 * 15]],
    ['clear.png', 3, [(1000 % 64) + 30, (1000 % 64) + 70, (1000 % 64) + 110]],
  ] as const
  for (const [name, bandCount, expected] of cases) {
    const made = mkdtempSync(at('made-'))
    const { planes } = await pictureInProcess(
      { file: at(name), name, folder: made },
      { temporaryFolder: folder },
    )
    const piece = await (await PictureReader.open(made, planes, null)).read(0, {
      left: 0,
      top: 0,
      width: 64,
      height: 64,
    })
    expect(piece.bands).toHaveLength(bandCount)
    expect(piece.bands.map((band) => band[1000])).toEqual(expected)
    expect(piece.alpha === null).toBe(bandCount === 1)
  }
})

test('a photograph that a camera held sideways is turned upright, and tells its day', async () => {
  const exif = { IFD0: { Orientation: '6' }, IFD2: { DateTimeOriginal: '2026:07:02 11:12:13' } }
  await ramp(60, 40, 3).withExif(exif).withMetadata({ orientation: 6 }).jpeg().toFile(at('side.jpg'))
  const looked = await look('side.jpg')
  expect(looked).toMatchObject({
    form: { columns: 60, rows: 40, orientation: 6 },
    planes: { columns: 40, rows: 60 },
    takenOn: '2026-07-02',
  })
})

describe('bad pictures', () => {
  test('one cut short is shown as far as it goes, and said to be', async () => {
    await ramp(2000, 1500, 3).jpeg().toFile(at('good.jpg'))
    writeFileSync(at('cut.jpg'), readFileSync(at('good.jpg')).subarray(0, 60_000))
    expect(await look('cut.jpg')).toMatchObject({
      damage: expect.stringMatching(/^cut\.jpg is damaged or cut short/),
    })
  })

  test('a TIFF cut short as well', async () => {
    await ramp(2000, 1500, 3).tiff({ compression: 'lzw' }).toFile(at('good.tif'))
    const bytes = readFileSync(at('good.tif'))
    // libvips writes the directory last: a cut file has none.
    writeFileSync(at('cut.tif'), bytes.subarray(0, bytes.length / 2))
    await expect(look('cut.tif')).rejects.toMatchObject({ code: 'broken-file' })
  })

  test('four thousand million pixels in a tiny file are refused', async () => {
    const bytes = await ramp(8, 8, 1).png().toBuffer()
    // IHDR: width and height at 16 and 20, their checksum at 29 (PNG 1.2, 3.2).
    bytes.writeUInt32BE(65_536, 16)
    bytes.writeUInt32BE(65_536, 20)
    const { crc32 } = await import('node:zlib')
    bytes.writeUInt32BE(crc32(bytes.subarray(12, 29)), 29)
    writeFileSync(at('bomb.png'), bytes)
    await expect(look('bomb.png')).rejects.toMatchObject({ code: 'unsafe-file' })
  })

  test('junk behind a good start is told by name', async () => {
    writeFileSync(
      at('junk.png'),
      Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), Buffer.alloc(500, 7)]),
    )
    await expect(look('junk.png')).rejects.toMatchObject({
      code: 'broken-file',
      message: expect.stringMatching(/^junk\.png /),
    })
  })
})

test('a cancel ends the work and rejects', async () => {
  const stopper = new AbortController()
  const work = pictureInProcess(
    { file: at('large.jpg'), name: 'large.jpg', folder },
    { temporaryFolder: folder, signal: stopper.signal },
  )
  stopper.abort()
  await expect(work).rejects.toMatchObject({ code: 'cancelled' })
})
