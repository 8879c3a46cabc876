import { copyFileSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { codes, opened } from '../../../test/service/open-layers.ts'
import { folderForTest, pixelsOf } from '../../../test/service/pictures.ts'
import { importFiles } from '../import-file.ts'

const fixtures = fileURLToPath(new URL('../../../fixtures/formats/geotiff/gdal/', import.meta.url))
const raw = (name: string): Uint8Array => new Uint8Array(readFileSync(`${fixtures}${name}`))
const [columns, rows] = [70, 50]

async function imported(name: string, options: { epsg?: number } = {}) {
  const folder = folderForTest()
  const file = path.join(folder, `${name}.tif`)
  copyFileSync(`${fixtures}${name}.tif`, file)
  const survey = path.join(folder, 'nst.gpkg')
  const { files } = await importFiles(survey, [file], options)
  const { survey: open, layers } = opened(survey)
  return { reply: files[0]!, stored: open.layers()[0]!, layers, layer: layers.list()[0]! }
}

/** The tile that begins at the picture's north-west corner, of which a pixel is one of the picture. */
async function shown({ layers, layer }: Awaited<ReturnType<typeof imported>>) {
  const { png, whole } = await layers.tile(layer.id, { level: 0, column: 0, row: 0 }, null)
  expect(whole).toBe(true)
  return (await pixelsOf(png)).at
}

describe('pictures are placed by their own tags and shown as GDAL reads them', () => {
  test.each(['rgba-zstd-tiles', 'rgba-lzw-bands', 'rgb-mask'])('%s', async (name) => {
    const found = await imported(name)
    expect(codes(found.reply)).toEqual([])
    expect(found.layer).toMatchObject({ kind: 'image', bands: 3, epsg: 27_700, placedBy: 'file' })
    expect(found.layer.bounds).toEqual([558_000, 347_450, 558_070, 347_500])
    const at = await shown(found)
    const wanted = raw('rgba.raw')
    for (let y = 0; y < rows; y += 3)
      for (let x = 0; x < columns; x += 3) {
        const i = y * columns + x
        const [red, green, blue, alpha] = [0, 1, 2, 3].map((k) => wanted[k * columns * rows + i]!)
        if (alpha === 0) expect(at(x, y).at(-1)).toBe(0)
        else expect(at(x, y)).toEqual([red, green, blue, 255])
      }
    expect(at(columns + 1, 3).at(-1)).toBe(0)
  })

  test('palette-lzw: colours, and nothing where its value says so', async () => {
    const found = await imported('palette-lzw')
    expect(found.layer).toMatchObject({ kind: 'image', bands: 3 })
    const at = await shown(found)
    const index = raw('palette.raw')
    for (let i = 0; i < index.length; i += 7) {
      const value = index[i]!
      const seen = at(i % columns, Math.floor(i / columns))
      if (value === 0) expect(seen.at(-1)).toBe(0)
      else expect(seen).toEqual([value, 255 - value, (value * 7) % 256, 255])
    }
  })

  test('"no data" of a plain picture is clear', async () => {
    const found = await imported('byte-none-strips')
    expect(found.stored.noData).toBe(255)
    const at = await shown(found)
    const values = raw('byte.raw')
    for (let i = 0; i < values.length; i += 11) {
      const alpha = at(i % columns, Math.floor(i / columns)).at(-1)
      expect(alpha).toBe(values[i] === 255 ? 0 : 255)
    }
  })

  test('16 bits stay 16 bits', async () => {
    const found = await imported('rgb-16-zstd')
    expect(found.stored).toMatchObject({ sampleType: 'uint16', bands: 3 })
    expect((await shown(found))(20, 20).at(-1)).toBe(255)
  })

  test('a fourth band that is no alpha counts as a band', async () => {
    expect((await imported('four-bands')).layer).toMatchObject({ bands: 4 })
  })

  test('a turned picture lies turned, and that is said', async () => {
    const { reply, layer } = await imported('byte-turned')
    expect(codes(reply)).toEqual(['assumed'])
    // Corners by hand: 558000 + 0.8 c + 0.3 r east, 347500 + 0.3 c - 0.8 r north.
    const [west, south, east, north] = layer.bounds!
    expect(Math.abs(west - 558_000)).toBeLessThan(1)
    expect(south).toBeCloseTo(347_500 - 0.8 * 50, 6)
    expect(east).toBeCloseTo(558_000 + 0.8 * 70 + 0.3 * 50, 6)
    expect(Math.abs(north - (347_500 + 0.3 * 70))).toBeLessThan(1)
  })
})

describe('systems', () => {
  test('degrees by their code lie where they are', async () => {
    const { reply, layer } = await imported('byte-degrees')
    expect(codes(reply)).toEqual([])
    expect(layer.bounds).not.toBeNull()
  })

  test('a code that is not known here is told, and another can be given', async () => {
    const { reply, layers, layer } = await imported('byte-own-system')
    expect(codes(reply)).toEqual(['unknown-system'])
    expect(layer.bounds).toBeNull()
    expect(layers.change(layer.id, { epsg: 27_700 }).bounds).not.toBeNull()
  })
})

describe('kinds can be changed where the values allow it', () => {
  test('16-bit numbers to heights and back; floats are no picture, colours no heights', async () => {
    const { layers, layer } = await imported('uint16-none-strips')
    expect(layer.kind).toBe('image')
    expect(layers.change(layer.id, { kind: 'terrain' })).toMatchObject({ kind: 'terrain' })
    const { png } = await layers.tile(layer.id, { level: 0, column: 0, row: 0 }, { view: 'slope' })
    expect((await pixelsOf(png)).at(20, 20).at(-1)).toBe(255)
    expect(layers.change(layer.id, { kind: 'image' })).toMatchObject({ kind: 'image' })
    const heights = await imported('float32-none-strips')
    expect(() => heights.layers.change(heights.layer.id, { kind: 'image' })).toThrow(/float32/)
    const colours = await imported('rgb-16-lzw')
    expect(() => colours.layers.change(colours.layer.id, { kind: 'terrain' })).toThrow(/3 bands/)
  })
})
