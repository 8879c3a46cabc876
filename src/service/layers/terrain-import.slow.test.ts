import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { gzipSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import type { terrainViews } from '#contract'
import { hillshade, type Terrain } from '#core/relief'
import { writeGeoTiff } from '#formats/geotiff'
import { bankHeight } from '../../../test/service/heights.ts'
import { codes, emptySurvey, opened } from '../../../test/service/open-layers.ts'
import { folderForTest, pixelsOf } from '../../../test/service/pictures.ts'
import { importFile, importFiles } from '../import-file.ts'

const fixtures = fileURLToPath(new URL('../../../fixtures/formats/geotiff/gdal/', import.meta.url))
const [west, north] = [558_000, 347_500]

function heightsOf(columns: number, rows: number, left = 0, top = 0): Float32Array {
  return Float32Array.from({ length: columns * rows }, (_, i) =>
    bankHeight(left + (i % columns), top + Math.floor(i / columns)),
  )
}

function heightTiff(columns: number, rows: number, left = 0, top = 0): Uint8Array {
  const cells = heightsOf(columns, rows, left, top)
  const place = { epsg: 27_700, west: west + left, north: north - top, cellM: 1 }
  return writeGeoTiff({ ...place, columns, rows, cells, noData: Number.NaN })
}

function heightGrid(columns: number, rows: number, left = 0, top = 0): string {
  const cells = heightsOf(columns, rows, left, top)
  const head = `ncols ${columns}\nnrows ${rows}\nxllcorner ${west + left}\nyllcorner ${north - top - rows}\ncellsize 1\nNODATA_value -9999\n`
  const lines = Array.from({ length: rows }, (_, row) =>
    [...cells.subarray(row * columns, (row + 1) * columns)]
      .map((height) => (Number.isNaN(height) ? '-9999' : height.toFixed(4)))
      .join(' '),
  )
  return `${head}${lines.join('\n')}\n`
}

/** Grey of the hillshade of a whole terrain, and the tile that should show it. */
async function comparesWithWhole(survey: string, columns: number, rows: number, tolerance: number) {
  const { layers } = opened(survey)
  const [layer] = layers.list()
  const terrain: Terrain = { columns, rows, cellX: 1, cellY: 1, values: heightsOf(columns, rows) }
  const whole = hillshade(terrain, { azimuthDeg: 300, altitudeDeg: 30, zFactor: 2, edges: 'fill' })
  const view = { view: 'hillshade', azimuth: 300, altitude: 30, exaggeration: 2 } as const
  expect(layer!.bounds).toEqual([west, north - rows, west + columns, north])
  for (const [column, row] of [
    [0, 0],
    [1, 1],
  ] as const) {
    const { png } = await layers.tile(layer!.id, { level: 0, column, row }, view)
    const tile = await pixelsOf(png)
    // Not the outermost cells: there a tile has nothing to look at beyond, and the whole goes on as its edge does.
    for (let y = 2; y < 256; y += 5)
      for (let x = 2; x < 256; x += 5) {
        const [c, r] = [column * 256 + x, row * 256 + y]
        const seen = tile.at(x, y)
        const wanted = c < columns && r < rows ? whole[r * columns + c]! : 0
        if (wanted === 0) expect(seen.at(-1)).toBe(0)
        else expect(Math.abs(seen[0]! - wanted)).toBeLessThanOrEqual(tolerance)
      }
  }
}

describe('a terrain model comes in and is seen as it is', () => {
  test('GeoTIFF, by its own tags, setting the grid', async () => {
    const folder = folderForTest()
    const file = path.join(folder, 'hill.tif')
    writeFileSync(file, heightTiff(400, 300))
    const survey = path.join(folder, 'nst.gpkg')
    const { files } = await importFiles(survey, [file])
    expect(files).toMatchObject([{ kind: 'geotiff', added: { layers: 1 }, faults: [] }])
    const { survey: open, layers } = opened(survey)
    expect(open.identity().gridEpsg).toBe(27_700)
    expect(layers.list()).toMatchObject([
      {
        name: 'hill.tif',
        kind: 'terrain',
        columns: 400,
        rows: 300,
        bands: 1,
        epsg: 27_700,
        pixelM: 1,
        ready: true,
      },
    ])
    await comparesWithWhole(survey, 400, 300, 1)
  })

  test.each(['asc', 'asc.gz'])('ASCII grid, .%s, its system by --epsg or a .prj file', async (end) => {
    const folder = folderForTest()
    const file = path.join(folder, `hill.${end}`)
    const text = heightGrid(400, 300)
    writeFileSync(file, end === 'asc' ? text : gzipSync(text))
    const survey = path.join(folder, 'nst.gpkg')
    const { files } = await importFiles(survey, [file], { epsg: 27_700 })
    expect(files).toMatchObject([{ kind: 'ascii-grid', added: { layers: 1 }, faults: [] }])
    // Heights of four decimals: a grey or two.
    await comparesWithWhole(survey, 400, 300, 2)
  })

  test('every view of a terrain can be had', async () => {
    const folder = folderForTest()
    const file = path.join(folder, 'hill.tif')
    writeFileSync(file, heightTiff(120, 90))
    const survey = path.join(folder, 'nst.gpkg')
    await importFiles(survey, [file])
    const { layers } = opened(survey)
    const [layer] = layers.list()
    expect(layer!.views.length).toBeGreaterThan(6)
    for (const view of layer!.views as (typeof terrainViews)[number][]) {
      const { png } = await layers.tile(layer!.id, { level: 0, column: 0, row: 0 }, { view, radiusM: 5 })
      const tile = await pixelsOf(png)
      expect(tile.at(60, 40).at(-1)).toBe(255)
      expect(tile.at(200, 40).at(-1)).toBe(0)
    }
  })
})

describe('tiles that come at once and abut', () => {
  const tiles = [
    ['a', 210, 130, 0, 0],
    ['b', 190, 130, 210, 0],
    ['c', 210, 170, 0, 130],
    ['d', 190, 170, 210, 130],
  ] as const
  const write = (folder: string, order: string): string[] =>
    [...order].map((letter) => {
      const [name, columns, rows, left, top] = tiles.find(([each]) => each === letter)!
      const tif = name === 'b'
      const file = path.join(folder, `${name}.${tif ? 'tif' : 'asc'}`)
      writeFileSync(file, tif ? heightTiff(columns, rows, left, top) : heightGrid(columns, rows, left, top))
      return file
    })

  test.each(['abcd', 'dbca', 'adcb'])(
    'in the order %s become one layer, seen without a seam',
    async (order) => {
      const folder = folderForTest()
      const survey = path.join(folder, 'nst.gpkg')
      const { files } = await importFiles(survey, write(folder, order), { epsg: 27_700 })
      const layersAdded = files.reduce((sum, { added }) => sum + added.layers, 0)
      expect(layersAdded).toBe(order === 'adcb' ? 2 : 1)
      expect(files.flatMap(codes).every((code) => code === 'assumed')).toBe(true)
      const { survey: open } = opened(survey)
      const [layer, ...more] = open.layers()
      expect(more).toEqual([])
      expect(layer).toMatchObject({ columns: 400, rows: 300, kind: 'terrain' })
      expect(layer!.files.filter(({ role }) => role === 'raster')).toHaveLength(4)
      await comparesWithWhole(survey, 400, 300, 2)
    },
  )

  test('come apart again by Undo, and stay apart when they came at different times', async () => {
    const folder = folderForTest()
    const survey = path.join(folder, 'nst.gpkg')
    const files = write(folder, 'ab')
    for (const file of files) await importFiles(survey, [file], { epsg: 27_700 })
    expect(opened(survey).layers.list()).toHaveLength(2)
    const both = path.join(folder, 'both.gpkg')
    await importFiles(both, files, { epsg: 27_700 })
    const { survey: open } = opened(both)
    expect(open.layers()).toHaveLength(1)
    open.undo()
    open.undo()
    expect(open.layers()).toMatchObject([
      { name: 'a.asc', columns: 210 },
      { name: 'b.tif', columns: 190 },
    ])
  })

  test('the same tiles again change nothing', async () => {
    const folder = folderForTest()
    const survey = path.join(folder, 'nst.gpkg')
    const files = write(folder, 'ab')
    await importFiles(survey, files, { epsg: 27_700 })
    const { files: again } = await importFiles(survey, files, { epsg: 27_700 })
    expect(again).toMatchObject([{ alreadyThere: true }, { alreadyThere: true }])
    expect(opened(survey).layers.list()).toMatchObject([{ fileName: 'a.asc and 1 more', columns: 400 }])
  })
})

test('without a system it is asked for; given, the layer is shown; the file alone never guesses', async () => {
  const folder = folderForTest()
  const file = path.join(folder, 'hill.asc')
  writeFileSync(file, heightGrid(60, 40))
  const survey = path.join(folder, 'nst.gpkg')
  const { files } = await importFiles(survey, [file])
  expect(codes(files[0]!)).toEqual(['unknown-system'])
  const { layers } = opened(survey)
  const [layer] = layers.list()
  expect(layer!.bounds).toBeNull()
  expect(layers.change(layer!.id, { epsg: 27_700 }).bounds).toEqual([west, north - 40, west + 60, north])
})

test('the cache may be deleted: heights are made again; another file in its place is refused', async () => {
  const folder = folderForTest()
  const file = path.join(folder, 'hill.tif')
  writeFileSync(file, heightTiff(300, 280))
  const survey = path.join(folder, 'nst.gpkg')
  await importFiles(survey, [file])
  rmSync(path.join(folder, '.cache'), { recursive: true })
  await comparesWithWhole(survey, 300, 280, 1)
  rmSync(path.join(folder, '.cache'), { recursive: true })
  const bytes = readFileSync(file)
  bytes[bytes.length - 5]! ^= 1
  writeFileSync(file, bytes)
  const { layers } = opened(survey)
  const tile = layers.tile(layers.list()[0]!.id, { level: 0, column: 0, row: 0 }, null)
  await expect(tile).rejects.toMatchObject({ code: 'not-found' })
})

test('a moved terrain model is found again when it is brought in from its new place', async () => {
  const folder = folderForTest()
  const file = path.join(folder, 'hill.tif')
  writeFileSync(file, heightTiff(60, 40))
  const survey = emptySurvey(folder)
  await importFiles(survey, [file])
  mkdirSync(path.join(folder, 'away'))
  const moved = path.join(folder, 'away', 'renamed.tif')
  renameSync(file, moved)
  const { survey: open, layers } = opened(survey)
  expect(layers.list()).toMatchObject([{ found: false }])
  expect(await importFile(open, 'renamed.tif', moved)).toMatchObject({
    alreadyThere: true,
    added: { layers: 0 },
  })
  expect(layers.list()).toMatchObject([{ found: true }])
})

test('a cancel ends the reading at once and leaves nothing', async () => {
  const folder = folderForTest()
  const file = path.join(folder, 'hill.tif')
  writeFileSync(file, heightTiff(3000, 2500))
  const survey = emptySurvey(folder)
  const { survey: open, layers } = opened(survey)
  const stop = new AbortController()
  let told = 0
  const progress = (done: number): void => {
    told += 1
    if (done > 0) stop.abort()
  }
  const work = importFile(open, 'hill.tif', file, { signal: stop.signal, progress })
  await expect(work).rejects.toMatchObject({ code: 'cancelled' })
  expect(told).toBeGreaterThan(0)
  expect(layers.list()).toEqual([])
  expect(readdirSync(path.join(folder, '.cache'))).toEqual(['CACHEDIR.TAG'])
})

test('on the desk a dropped terrain model is moved beside the survey, and kept inside on request', async () => {
  const folder = folderForTest()
  const dropped = path.join(folder, 'upload-1')
  writeFileSync(dropped, heightTiff(60, 40))
  const survey = emptySurvey(folder)
  const { survey: open, layers } = opened(survey)
  const wishes = { move: true, together: ['hill.tif'], cache: layers.cache }
  expect(await importFile(open, 'hill.tif', dropped, wishes)).toMatchObject({ added: { layers: 1 } })
  expect(existsSync(dropped)).toBe(false)
  const place = path.join(folder, 'nst-layers', 'hill.tif')
  expect(open.layers()[0]!.files.map(({ path: at }) => at)).toEqual([place])
  expect(await layers.keepInside(layers.list()[0]!.id)).toMatchObject({ inside: true })
  rmSync(place)
  rmSync(path.join(folder, '.cache'), { recursive: true })
  const { png } = await layers.tile(layers.list()[0]!.id, { level: 0, column: 0, row: 0 }, null)
  expect((await pixelsOf(png)).at(10, 10).at(-1)).toBe(255)
})

describe('bad files', () => {
  const bad = async (name: string, bytes: Uint8Array | string) => {
    const folder = folderForTest()
    const file = path.join(folder, name)
    writeFileSync(file, bytes)
    const survey = path.join(folder, 'nst.gpkg')
    const { files } = await importFiles(survey, [file], { epsg: 27_700 })
    return { reply: files[0]!, layers: opened(survey).layers.list(), folder }
  }

  test('a header of four billion pixels in a tiny file is refused as unsafe, tiff or asc', async () => {
    const tiff = Buffer.from(heightTiff(4, 4))
    // Columns and rows are the first two entries of the directory.
    tiff.writeUInt32LE(65_536, 10 + 8)
    tiff.writeUInt32LE(65_536, 10 + 12 + 8)
    // Rows of a strip: the eighth.
    tiff.writeUInt32LE(65_536, 10 + 7 * 12 + 8)
    for (const [name, bytes] of [
      ['huge.tif', tiff],
      ['huge.asc', 'ncols 65536\nnrows 65536\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3\n'],
    ] as const) {
      const { reply, layers, folder } = await bad(name, bytes)
      expect(reply).toMatchObject({ kind: null, added: { layers: 0 }, faults: [{ code: 'unsafe-file' }] })
      expect(layers).toEqual([])
      expect(existsSync(path.join(folder, '.cache', reply.sha256 || 'none'))).toBe(false)
    }
  })

  test('a packed grid that unpacks without end is refused', async () => {
    const head = 'ncols 10\nnrows 10\nxllcorner 0\nyllcorner 0\ncellsize 1\n'
    const { reply } = await bad('bomb.asc.gz', gzipSync(`${head}1 2${' '.repeat(30_000_000)}`))
    expect(reply).toMatchObject({ kind: null, faults: [{ code: 'unsafe-file' }] })
  })

  test('commas are told by line; a short row leaves what stood before it', async () => {
    const commas = await bad('commas.asc', heightGrid(6, 5).replace(/(\d) (\d)/g, '$1,$2'))
    expect(commas.reply).toMatchObject({ kind: null, faults: [{ code: 'bad-value' }] })
    expect(commas.reply.faults[0]!.text).toMatch(/commas\.asc.*comma/)
    const lines = heightGrid(6, 5).split('\n')
    lines[9] = lines[9]!.split(' ').slice(1).join(' ')
    const short = await bad('short.asc', lines.join('\n'))
    expect(short.reply.faults).toMatchObject([{ line: 10, code: 'broken-file' }])
    expect(short.layers).toMatchObject([{ kind: 'terrain', columns: 6, rows: 5 }])
  })

  test('a truncated GeoTIFF keeps what there is and says what is lost', async () => {
    const bytes = readFileSync(`${fixtures}float32-lzw-tiles.tif`)
    const { reply, layers } = await bad('cut.tif', bytes.subarray(0, 4500))
    expect(reply.faults).toMatchObject([{ code: 'broken-file' }])
    expect(reply.faults[0]!.text).toMatch(/\d+ of its 12 pieces/)
    expect(layers).toMatchObject([{ kind: 'terrain', columns: 70 }])
  })

  test('a packing that is not read is named', async () => {
    const { reply } = await bad('packed.tif', readFileSync(`${fixtures}float32-lerc.tif`))
    expect(reply).toMatchObject({ kind: null, faults: [{ code: 'unsupported-feature' }] })
    expect(reply.faults[0]!.text).toContain('LERC')
  })
})

describe('what a TIFF of one band is taken for', () => {
  test.each([
    ['float32-none-strips', 'terrain'],
    ['float64-deflate-3-tiles', 'terrain'],
    ['int16-zstd-2-tiles', 'terrain'],
    ['uint32-none-strips', 'terrain'],
    ['uint16-none-strips', 'image'],
    ['uint16-heights', 'terrain'],
    ['uint16-scaled', 'terrain'],
    ['byte-none-strips', 'image'],
    ['palette-lzw', 'image'],
  ])('%s is %s', async (name, kind) => {
    const folder = folderForTest()
    const file = path.join(folder, `${name}.tif`)
    copyFileSync(`${fixtures}${name}.tif`, file)
    const survey = path.join(folder, 'nst.gpkg')
    const { files } = await importFiles(survey, [file])
    expect(codes(files[0]!)).toEqual([])
    expect(opened(survey).layers.list()).toMatchObject([{ kind, columns: 70, rows: 50, epsg: 27_700 }])
  })
})
