import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { inflateSync, zstdDecompressSync } from 'node:zlib'
import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { systemFromWkt } from '#formats/coordinate-system'
import {
  type GeoTiff,
  heightRows,
  randomBytes,
  readGeoTiff,
  type Unpackers,
  whyNotUnpacked,
  writeGeoTiff,
} from './index.ts'

const folder = fileURLToPath(new URL('../../../fixtures/formats/geotiff/', import.meta.url))
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(`${folder}${name}`))
const unpackers: Unpackers = {
  inflate: (packed, most) => inflateSync(packed, { maxOutputLength: Math.max(1, most) }),
  zstd: (packed, most) => zstdDecompressSync(packed, { maxOutputLength: Math.max(1, most) }),
}

const header = (bytes: Uint8Array) => readGeoTiff(randomBytes(bytes), { fileName: 'hill.tif' })

function tiffOf(bytes: Uint8Array): GeoTiff {
  const { tiff, faults } = header(bytes)
  expect(faults.map(({ text }) => text)).toEqual([])
  return tiff!
}

function heightsOf(bytes: Uint8Array, tiff = tiffOf(bytes)): { values: Float32Array; lost: number } {
  const { columns, rows } = tiff.picture
  const values = new Float32Array(columns * rows)
  const trouble = { lostPieces: 0 }
  let row = 0
  for (const part of heightRows(randomBytes(bytes), tiff, unpackers, trouble)) {
    values.set(part.values, row * columns)
    row += part.rows
  }
  expect(row).toBe(rows)
  return { values, lost: trouble.lostPieces }
}

const arrays = {
  byte: Uint8Array,
  uint16: Uint16Array,
  int16: Int16Array,
  uint32: Uint32Array,
  int32: Int32Array,
  float32: Float32Array,
  float64: Float64Array,
}

/** What GDAL reads of a kind of value, as heights: its own "no data" is none. */
function expected(kind: keyof typeof arrays, file = `${kind}.raw`): Float32Array {
  const { buffer } = new Uint8Array(readFileSync(`${folder}gdal/${file}`))
  const none = kind === 'float32' ? -9999 : 255
  return Float32Array.from(new arrays[kind](buffer), (value) => (value === none ? Number.NaN : value))
}

const variants = readdirSync(`${folder}gdal`).filter((name) =>
  /^(byte|u?int(16|32)|float(32|64))-(none|deflate|lzw|zstd|packbits|bigtiff|sparse).*\.tif$/.test(name),
)

/** The first few cells that differ. */
function off(values: Float32Array, wanted: Float32Array): unknown[] {
  expect(values.length).toBe(wanted.length)
  return [...values]
    .flatMap((value, i) => (Object.is(value, wanted[i]) ? [] : [{ i, value, wanted: wanted[i] }]))
    .slice(0, 5)
}

test('there are files of every kind and packing', () => {
  expect(variants.length).toBeGreaterThan(28)
})

test.each(variants)('%s: every cell as GDAL reads it', (name) => {
  const kind = name.split('-')[0] as keyof typeof arrays
  const bytes = bytesOf(`gdal/${name}`)
  const tiff = tiffOf(bytes)
  expect(whyNotUnpacked(tiff.picture)).toBeNull()
  expect(tiff.picture).toMatchObject({ columns: 70, rows: 50, samples: 1, alpha: null })
  expect(tiff.picture.sampleType).toBe(kind === 'byte' ? 'uint8' : kind)
  expect(tiff.picture.tiled).toBe(name.includes('tiles'))
  expect(tiff.little).toBe(!name.includes('big-endian'))
  expect(tiff.big).toBe(name.includes('bigtiff'))
  expect(tiff.system).toMatchObject({ epsg: 27_700, systemText: null, pixelIsPoint: false })
  expect(tiff.lines).toEqual({
    ...{ easting: 558_000, northing: 347_500, eastingPerColumn: 1, northingPerColumn: 0 },
    ...{ eastingPerRow: 0, northingPerRow: -1 },
  })
  const { values, lost } = heightsOf(bytes, tiff)
  expect(lost).toBe(0)
  expect(off(values, expected(kind))).toEqual([])
})

test('a cloud-optimised file gives its finest picture', () => {
  const bytes = bytesOf('gdal/float32-cog.tif')
  const tiff = tiffOf(bytes)
  expect(tiff.picture).toMatchObject({ columns: 200, rows: 170, tiled: true, predictor: 3 })
  expect(heightsOf(bytes, tiff).values).toEqual(expected('float32', 'cog.raw'))
})

test('NaN in the cells is none; a picture need not have a system, nor north at its top', () => {
  const bytes = bytesOf('rasterio/float_nan.tif')
  const tiff = tiffOf(bytes)
  expect(tiff.system).toMatchObject({ epsg: null, systemText: null })
  expect(tiff.lines).toMatchObject({ easting: 0, northing: 0, eastingPerColumn: 100, northingPerRow: 100 })
  expect(tiff.noData).toBeNaN()
  const { values } = heightsOf(bytes, tiff)
  // gdallocationinfo of GDAL 3.6.2, rounded.
  expect([...values]).toEqual([1.41, 1.23, Number.NaN, 0.32, -0.23, -1.88].map(Math.fround))
})

test('scale and offset make heights of whole numbers', () => {
  const bytes = bytesOf('gdal/uint16-scaled.tif')
  const tiff = tiffOf(bytes)
  expect(tiff).toMatchObject({ scale: 0.01, offset: -100 })
  expect(heightsOf(bytes, tiff).values).toEqual(expected('uint16').map((value) => value * 0.01 - 100))
})

describe('what the tags say of the place', () => {
  test('a place of the middle of pixels is moved by half of one', () => {
    const tiff = tiffOf(bytesOf('gdal/byte-point.tif'))
    expect(tiff.system.pixelIsPoint).toBe(true)
    expect(tiff.lines).toMatchObject({ easting: 558_000, northing: 347_500 })
  })

  test('degrees, by their code', () => {
    const tiff = tiffOf(bytesOf('gdal/byte-degrees.tif'))
    expect(tiff.system.epsg).toBe(4326)
    expect(tiff.lines!.easting).toBeCloseTo(0.35, 12)
    expect(tiff.lines!.northingPerRow).toBeCloseTo(-0.01 / 50, 12)
  })

  test('a turned picture, which is said', () => {
    const { tiff, faults } = header(bytesOf('gdal/byte-turned.tif'))
    expect(tiff!.lines).toEqual({
      ...{ easting: 558_000, northing: 347_500, eastingPerColumn: 0.8, northingPerColumn: 0.3 },
      ...{ eastingPerRow: 0.3, northingPerRow: -0.8 },
    })
    expect(tiff!.turnedDeg).toBeCloseTo(20.556, 3)
    expect(faults).toMatchObject([{ code: 'assumed' }])
    expect(faults[0]!.text).toContain('20.6 degrees')
  })

  test('systems without a code of their own: by the parts of a grid, by the code of a projection, or not at all', () => {
    const stated = (bytes: Uint8Array) => {
      const { epsg, systemText } = tiffOf(bytes).system
      expect(epsg).toBeNull()
      return systemText && systemFromWkt(systemText)
    }
    expect(stated(bytesOf('gdal/byte-grid-by-parts.tif'))).toMatchObject({ epsg: 27_700, convert: null })
    // GDAL 3.6.2 reads of it: UTM zone 25 south on GRS 1980, nothing to WGS84.
    const olinda = new Uint8Array(readFileSync(`${folder}../../relief/olinda/terrain.tif`))
    expect(stated(olinda)).toMatchObject({ epsg: 32_725, convert: null })
    expect(stated(bytesOf('gdal/byte-own-system.tif'))).toBeNull()
  })

  test('a system of heights', () => {
    expect(tiffOf(bytesOf('gdal/uint16-heights.tif')).system).toMatchObject({ epsg: 27_700, heights: true })
    expect(tiffOf(bytesOf('gdal/uint16-none-strips.tif')).system.heights).toBe(false)
  })
})

describe('pictures', () => {
  test('alpha, and bands beyond three that are none', () => {
    expect(tiffOf(bytesOf('gdal/rgba-zstd-tiles.tif')).picture).toMatchObject({ samples: 4, alpha: 3 })
    expect(tiffOf(bytesOf('gdal/rgba-lzw-bands.tif')).picture).toMatchObject({ planar: true, alpha: 3 })
    expect(tiffOf(bytesOf('gdal/four-bands.tif')).picture).toMatchObject({ samples: 4, alpha: null })
    expect(tiffOf(bytesOf('gdal/palette-lzw.tif')).picture).toMatchObject({ photometric: 3 })
  })

  test('packings that are not unpacked here are named', () => {
    const { picture } = tiffOf(bytesOf('gdal/float32-lerc.tif'))
    expect(whyNotUnpacked(picture)).toContain('LERC')
  })
})

describe('bad files', () => {
  const good = bytesOf('gdal/float32-lzw-tiles.tif')

  test('cut anywhere: one fault, or heights with what was lost counted', () => {
    for (let length = 0; length < good.length; length += 41) {
      const { tiff, faults } = header(good.slice(0, length))
      if (tiff) heightsOf(good.slice(0, length), tiff)
      else expect(faults).toHaveLength(1)
    }
    // The directory stands first; what was cut off is pixels.
    const { values, lost } = heightsOf(good.slice(0, 4000))
    expect(lost).toBeGreaterThan(0)
    expect(values.some((value) => !Number.isNaN(value))).toBe(true)
  })

  test('any bytes changed end in heights or one clear fault, never otherwise', () => {
    const change = fc.record({ at: fc.nat(good.length - 1), byte: fc.nat(255) })
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 8 }), (changes) => {
        const bytes = good.slice()
        for (const { at, byte } of changes) bytes[at] = byte
        const { tiff, faults } = header(bytes)
        if (!tiff) {
          expect(faults).toHaveLength(1)
          return
        }
        const { columns, rows } = tiff.picture
        if (columns * rows > 1e6 || whyNotUnpacked(tiff.picture)) return
        heightsOf(bytes, tiff)
      }),
      { numRuns: 300 },
    )
  })

  const directory = (
    fields: readonly (readonly [number, number, number, number])[],
    next = 0,
  ): Uint8Array => {
    const bytes = Buffer.alloc(8 + 2 + 12 * fields.length + 4)
    bytes.write('49492a0008000000', 'hex')
    bytes.writeUInt16LE(fields.length, 8)
    for (const [i, [tag, type, count, value]] of fields.entries()) {
      bytes.writeUInt16LE(tag, 10 + 12 * i)
      bytes.writeUInt16LE(type, 12 + 12 * i)
      bytes.writeUInt32LE(count, 14 + 12 * i)
      bytes.writeUInt32LE(value, 18 + 12 * i)
    }
    bytes.writeUInt32LE(next, bytes.length - 4)
    return new Uint8Array(bytes)
  }

  test.each([
    ['nothing', new Uint8Array(0), 'broken-file'],
    [
      'a picture of another kind',
      new TextEncoder().encode('GIF89a and more bytes than a head'),
      'unknown-kind',
    ],
    ['a directory beyond the end', Uint8Array.from([0x49, 0x49, 42, 0, 255, 255, 255, 127]), 'broken-file'],
    ['no size', directory([[256, 4, 1, 0]]), 'broken-file'],
    ['columns that are no whole number', directory([[256, 5, 1, 0]]), 'broken-file'],
    [
      'a table of four billion pieces',
      directory([
        [256, 4, 1, 9],
        [257, 4, 1, 9],
        [273, 4, 0xffff_ffff, 8],
      ]),
      'unsafe-file',
    ],
    [
      'a table that is not in the file',
      directory([
        [256, 4, 1, 9],
        [257, 4, 1, 9],
        [273, 4, 9000, 8],
      ]),
      'broken-file',
    ],
    [
      '65,536 x 65,536 pixels in strips that are not there',
      directory([
        [256, 4, 1, 65_536],
        [257, 4, 1, 65_536],
        [273, 4, 1, 8],
        [278, 4, 1, 1],
      ]),
      'broken-file',
    ],
    [
      'values of different kinds',
      directory([
        [256, 4, 1, 9],
        [257, 4, 1, 9],
        [277, 3, 1, 2],
        [258, 3, 2, 8 | (16 << 16)],
      ]),
      'unsupported-feature',
    ],
  ])('%s is refused with one sentence', (_, bytes, code) => {
    const { tiff, faults } = header(bytes)
    expect(tiff).toBeNull()
    expect(faults).toMatchObject([{ line: null, code }])
    expect(faults[0]!.text).toMatch(/^hill\.tif .*\.$/)
  })

  test('directories that lead in a ring are followed once round', () => {
    const bytes = directory(
      [
        [256, 4, 1, 2],
        [257, 4, 1, 1],
        [258, 3, 1, 8],
        [273, 4, 1, 0],
        [279, 4, 1, 2],
      ],
      8,
    )
    expect(tiffOf(bytes).picture).toMatchObject({ columns: 2, rows: 1 })
  })

  test('a strip that claims more than can be held ends the reading', () => {
    const huge = directory([
      ...([
        [256, 4, 1, 50_000],
        [257, 4, 1, 50_000],
        [258, 3, 1, 32],
        [259, 3, 1, 8],
      ] as const),
      ...([
        [273, 4, 1, 8],
        [279, 4, 1, 8],
        [339, 3, 1, 3],
      ] as const),
    ])
    const rows = heightRows(randomBytes(huge), tiffOf(huge), unpackers, { lostPieces: 0 })
    expect(() => rows.next()).toThrow(/pieces of 9537 MiB/)
  })
})

test('what is written here reads back, place and cells', () => {
  const size = fc.integer({ min: 1, max: 40 })
  fc.assert(
    fc.property(
      size,
      size,
      fc.double({ min: 0.1, max: 90, noNaN: true }),
      fc.nat(1e6),
      (columns, rows, cellM, west) => {
        const cells = Float32Array.from({ length: columns * rows }, (_, i) =>
          i % 7 === 3 ? Number.NaN : i / 3,
        )
        const bytes = writeGeoTiff({
          epsg: 27_700,
          west,
          north: 1000,
          cellM,
          columns,
          rows,
          cells,
          noData: Number.NaN,
        })
        const tiff = tiffOf(bytes)
        expect(tiff.system.epsg).toBe(27_700)
        expect(tiff.lines).toMatchObject({
          easting: west,
          northing: 1000,
          eastingPerColumn: cellM,
          northingPerRow: -cellM,
        })
        expect(heightsOf(bytes, tiff).values).toEqual(cells)
      },
    ),
  )
})
