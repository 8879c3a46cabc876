import { fromArrayBuffer } from 'geotiff'
import { expect, test } from 'vitest'
import { randomBytes } from './random-bytes.ts'
import { readGeoTiff } from './read-geotiff.ts'
import { writeGeoTiff } from './write-geotiff.ts'

const raster = {
  epsg: 27_700,
  west: 560_000.1,
  north: 345_000.7,
  cellM: 0.1,
  columns: 7,
  rows: 5,
  cells: Uint8Array.from({ length: 35 }, (_, i) => i),
  noData: 255,
}

test('reads back with its place, its grid and every cell', async () => {
  const image = await (await fromArrayBuffer(writeGeoTiff(raster).slice().buffer)).getImage()
  expect(image.getOrigin().slice(0, 2)).toEqual([560_000.1, 345_000.7])
  expect(image.getResolution().slice(0, 2)).toEqual([0.1, -0.1])
  expect(image.getGeoKeys()?.ProjectedCSTypeGeoKey).toBe(27_700)
  expect(image.getGDALNoData()).toBe(255)
  const [band] = await image.readRasters()
  expect(band).toEqual(raster.cells)
})

test('heights with gaps read back as 32-bit floats, and NaN as no data', async () => {
  const cells = Float32Array.from({ length: 35 }, (_, i) => (i === 4 ? Number.NaN : 31.25 - i / 7))
  const image = await (
    await fromArrayBuffer(writeGeoTiff({ ...raster, cells, noData: Number.NaN }).slice().buffer)
  ).getImage()
  expect([image.getSampleFormat(), image.getBitsPerSample(), image.getGDALNoData()]).toEqual([
    3,
    32,
    Number.NaN,
  ])
  const [band] = await image.readRasters()
  expect(band).toEqual(cells)
})

test('colours read back band by band, with nothing said of no data', async () => {
  const { noData: _, ...place } = raster
  const cells = Uint8Array.from({ length: 105 }, (_, i) => 2 * i)
  const image = await (
    await fromArrayBuffer(writeGeoTiff({ ...place, cells, samples: 3 }).slice().buffer)
  ).getImage()
  expect([image.getSamplesPerPixel(), image.getGDALNoData()]).toEqual([3, null])
  const bands = await image.readRasters()
  for (const band of [0, 1, 2]) expect(bands[band]).toEqual(cells.filter((_, i) => i % 3 === band))
})

test.each([
  ['north up in degrees', { eastingPerRow: 0, northingPerColumn: 0 }, { epsg: 4326, geographic: true }],
  ['turned', { eastingPerRow: 0.4, northingPerColumn: 0.3 }, { epsg: 32_631, geographic: false }],
  ['of no known system', { eastingPerRow: 0, northingPerColumn: 0 }, null],
] as const)('a raster laid as another one is, %s, reads back so', (_, turn, system) => {
  const lines = { easting: 0.35, northing: 52.9, eastingPerColumn: 1.5, northingPerRow: -1.25, ...turn }
  const { columns, rows, cells } = raster
  const bytes = writeGeoTiff({ columns, rows, cells, lines, system })
  const { tiff } = readGeoTiff(randomBytes(bytes), { fileName: 'laid.tif' })
  expect(tiff?.lines).toEqual(lines)
  expect(tiff?.system.epsg).toBe(system?.epsg ?? null)
})

test('cells that do not fit the size are a wrong call', () => {
  expect(() => writeGeoTiff({ ...raster, rows: 6 })).toThrow(RangeError)
})
