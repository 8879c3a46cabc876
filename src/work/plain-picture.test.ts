import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import sharp from 'sharp'
import { expect, onTestFinished, test } from 'vitest'
import { tiffHeader } from './file-bytes.ts'
import { needsPlain, plainPicture } from './plain-picture.ts'

const fixtures = fileURLToPath(new URL('../../fixtures/formats/geotiff/', import.meta.url))
const raw = (name: string): Uint8Array => new Uint8Array(readFileSync(`${fixtures}gdal/${name}`))
const cells = 70 * 50

type Pixel = readonly [column: number, row: number, values: readonly number[]]

const cogPixels: readonly Pixel[] = [
  [10, 10, [225, 223, 224, 255]],
  [300, 400, [95, 106, 102, 255]],
  [700, 611, [219, 220, 222, 255]],
  [1020, 1010, [133, 137, 140, 255]],
  [512, 511, [197, 202, 208, 255]],
]

async function plain(file: string) {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-plain-'))
  onTestFinished(() => rmSync(folder, { recursive: true }))
  const made = await plainPicture({ file: `${fixtures}${file}`, name: file, folder }, () => {})
  if (!made) return null
  const planes = []
  for (const source of made.sources) {
    const { channels, depth } = await sharp(source).metadata()
    const wide = depth === 'ushort'
    const space = channels > 2 ? (wide ? 'rgb16' : 'srgb') : wide ? 'grey16' : 'b-w'
    const data = await sharp(source)
      .toColourspace(space)
      .raw({ depth: wide ? 'ushort' : 'uchar' })
      .toBuffer()
    const values = wide ? new Uint16Array(data.buffer, data.byteOffset, data.length / 2) : data
    planes.push(Array.from({ length: channels }, (_, k) => [...values].filter((_, i) => i % channels === k)))
  }
  return { ...made, planes }
}

/** Bands of a file as GDAL reads them. */
const bands = (name: string, count: number): number[][] =>
  Array.from({ length: count }, (_, k) => [...raw(name).subarray(k * cells, (k + 1) * cells)])

test('Zstandard with alpha', async () => {
  const { form, planes, damage } = (await plain('gdal/rgba-zstd-tiles.tif'))!
  expect(form).toMatchObject({ columns: 70, rows: 50, channels: 4, alpha: true, sampleType: 'uint8' })
  expect(damage).toBeNull()
  expect(planes).toEqual([bands('rgba.raw', 4)])
})

test('Zstandard of 16 bits', async () => {
  const { form, planes } = (await plain('gdal/rgb-16-zstd.tif'))!
  expect(form).toMatchObject({ channels: 3, alpha: false, sampleType: 'uint16' })
  const wide = new Uint16Array(raw('rgb-16.raw').buffer)
  expect(planes).toEqual([[0, 1, 2].map((k) => [...wide.subarray(k * cells, (k + 1) * cells)])])
})

test('a fourth band that is no alpha is a band of its own', async () => {
  const { form, planes } = (await plain('gdal/four-bands.tif'))!
  expect(form).toMatchObject({ channels: 4, alpha: false })
  const [red, green, blue, more] = bands('rgba.raw', 4)
  expect(planes).toEqual([[red, green, blue], [more]])
})

test('a mask becomes alpha', async () => {
  const { form, planes } = (await plain('gdal/rgb-mask.tif'))!
  expect(form).toMatchObject({ channels: 4, alpha: true })
  expect(planes).toEqual([bands('rgba.raw', 4)])
})

test('colours of a palette, and the one that means nothing', async () => {
  const { planes } = (await plain('gdal/palette-lzw.tif'))!
  const [index] = bands('palette.raw', 1)
  expect(index).toContain(0)
  // The palette of the script that made the file.
  expect(planes).toEqual([
    [
      index!,
      index!.map((i) => 255 - i),
      index!.map((i) => (i * 7) % 256),
      index!.map((i) => (i === 0 ? 0 : 255)),
    ],
  ])
})

test('JPEG with a mask, as GDAL 3.6.2 reads it but for a step or two of rounding', async () => {
  const { form, planes } = (await plain('rasterio/cogeo.tif'))!
  expect(form).toMatchObject({ columns: 1024, rows: 1024, channels: 4, alpha: true })
  // gdallocationinfo -valonly cogeo.tif COLUMN ROW; the mask is 255 everywhere.
  for (const [column, row, wanted] of cogPixels)
    for (const [k, band] of planes[0]!.entries())
      expect(Math.abs(band[row * 1024 + column]! - wanted[k]!)).toBeLessThanOrEqual(2)
})

test('of a damaged file the pieces that can be read are shown, and the rest is told', async () => {
  const { damage } = (await plain('rasterio/corrupt.tif'))!
  expect(damage).toMatch(/[123] of its 4 pieces/)
})

test('what libvips reads well is left to it; what cannot be a picture is refused', async () => {
  for (const name of ['rgba-lzw-bands', 'rgb-16-lzw', 'byte-none-strips', 'uint16-lzw-big-endian']) {
    expect(needsPlain(tiffHeader(name, `${fixtures}gdal/${name}.tif`).tiff!)).toBe(false)
    expect(await plain(`gdal/${name}.tif`)).toBeNull()
  }
  await expect(plain('rasterio/alpha.tif')).rejects.toThrow(
    /more than three bands, packed by JPEG; save it with deflate/,
  )
  await expect(plain('gdal/int16-zstd-2-tiles.tif')).rejects.toMatchObject({ code: 'unsupported-feature' })
})
