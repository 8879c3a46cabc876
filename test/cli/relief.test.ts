import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { fromArrayBuffer } from 'geotiff'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { ReliefReply } from '#service'
import { difference } from '../relief/relief-fixture.ts'
import { jsonHere, lynchetHere } from './lynchet-here.ts'
import { lynchetJson } from './run-lynchet.ts'

const fixture = (name: string): string =>
  fileURLToPath(new URL(`../../fixtures/relief/olinda/${name}`, import.meta.url))

let folder = ''
const at = (name: string): string => path.join(folder, name)
/** An even slope of 1 in 10 up to the east, 20 x 10 cells of 2 m, the last cell without a height. */
const slope = (end: string): string =>
  [
    'ncols 20\nnrows 10\nxllcorner 558000\nyllcorner 347000\ncellsize 2\nNODATA_value -9999',
    ...Array.from({ length: 10 }, (_, row) =>
      Array.from({ length: 20 }, (_, column) =>
        row === 9 && column === 19 ? -9999 : (5 + 0.2 * column).toFixed(1),
      ).join(' '),
    ),
    end,
  ].join('\n')

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'lynchet-relief-'))
  writeFileSync(at('slope.asc'), slope(''))
  writeFileSync(at('short.asc'), slope('').replace('5.0 5.2', '5.0'))
  writeFileSync(at('words.txt'), 'no heights here\n')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function cellsOf(file: string) {
  const image = await (await fromArrayBuffer(new Uint8Array(readFileSync(file)).buffer)).getImage()
  const [band] = await image.readRasters()
  return { image, values: Float32Array.from(band as ArrayLike<number>) }
}

describe('relief', () => {
  test('a hillshade lies as its model does, with the greys of gdaldem (GDAL 3.6.2)', async () => {
    const out = at('shade.tif')
    const words = ['--view', 'hillshade', '--epsg', '32725', '--out', out]
    const reply = lynchetJson<ReliefReply>('relief', fixture('terrain.tif'), ...words)
    expect(reply).toMatchObject({ written: out, view: 'hillshade', faults: [] })
    const [ours, theirs, model] = await Promise.all(
      [out, fixture('expected-hillshade-edges.tif'), fixture('terrain.tif')].map(cellsOf),
    )
    const { most, unlike } = difference(ours!.values, theirs!.values)
    expect(unlike).toBe(0)
    // Cells are measured on the ground of the grid that the place is worked in, not in the model's own figures: less than one grey.
    expect(most).toBeLessThanOrEqual(1)
    expect(ours!.image.getBoundingBox()).toEqual(model!.image.getBoundingBox())
  })

  test('an even slope is even: 1 in 10 is 5.7106 degrees in every cell that has a height', async () => {
    const out = at('slope.tif')
    const words = ['--view', 'slope', '--epsg', '27700', '--out', out]
    const { mean, columns, rows, cellX } = await jsonHere<ReliefReply>('relief', at('slope.asc'), ...words)
    expect([columns, rows]).toEqual([20, 10])
    expect(cellX).toBeCloseTo(2, 9)
    expect(mean).toBeCloseTo(5.7, 1)
    const { image, values } = await cellsOf(out)
    expect(values.at(-1)).toBeNaN()
    // The missing cell's neighbours take it as high as themselves; in the first and last row heights are carried on northwards and southwards alone.
    for (const value of values.subarray(20, 160)) expect(value).toBeCloseTo(5.7106, 3)
    expect(image.getGeoKeys()?.ProjectedCSTypeGeoKey).toBe(27_700)
  })

  test('GDAL reads what was written, in its place', async ({ skip }) => {
    if (spawnSync('gdalinfo', ['--version']).status !== 0) skip('GDAL is not installed')
    const out = at('local.tif')
    await jsonHere(
      'relief',
      at('slope.asc'),
      '--view',
      'local-relief',
      '--shape',
      'box',
      '--epsg',
      '27700',
      '--out',
      out,
    )
    const info = JSON.parse(spawnSync('gdalinfo', ['-json', '-stats', out], { encoding: 'utf8' }).stdout)
    expect(info.geoTransform).toEqual([558_000, 2, 0, 347_020, 0, -2])
    expect(info.coordinateSystem.wkt).toContain('ID["EPSG",27700]')
    expect(info.bands[0]).toMatchObject({ type: 'Float32', noDataValue: 'NaN' })
  })

  test.each([
    [
      'a model of no known system is asked about',
      ['slope.asc', '--view', 'slope'],
      1,
      /EPSG code \(--epsg\)/,
    ],
    ['a short row is told with its line', ['short.asc', '--view', 'slope', '--epsg', '27700'], 1, /line 7/],
    ['what holds no heights is refused', ['words.txt', '--view', 'slope'], 1, /words\.txt holds no heights/],
    ['a view that is none is wrong usage', ['slope.asc', '--view', 'shade'], 2, /--view is one of hillshade/],
    [
      'a radius within one cell is refused with the bounds',
      ['slope.asc', '--view', 'sky-view', '--radius', '1', '--epsg', '27700'],
      1,
      /radius must be between 2 and 800/,
    ],
  ] as const)('%s', async (_, [file, ...words], code, sentence) => {
    const done = await lynchetHere('relief', at(file), ...words, '--out', at('none.tif'))
    expect(done.err).toMatch(sentence)
    expect(done.code).toBe(code)
  })
})
