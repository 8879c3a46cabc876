import { fromArrayBuffer } from 'geotiff'
import { beforeAll, describe, expect, test } from 'vitest'
import {
  difference,
  fixtureBytes,
  fixtureCsv,
  fixtureJson,
  type JsonRows,
  valuesOf,
} from '../../../test/relief/relief-fixture.ts'
import {
  aspect,
  boxRelief,
  gaussianRelief,
  hillshade,
  multiHillshade,
  openness,
  skyView,
  slope,
  type Terrain,
} from './index.ts'

async function tiffValues(name: string): Promise<{ columns: number; rows: number; values: Float32Array }> {
  const image = await (await fromArrayBuffer(fixtureBytes(name).slice().buffer)).getImage()
  const [band] = await image.readRasters()
  return {
    columns: image.getWidth(),
    rows: image.getHeight(),
    values: Float32Array.from(band as ArrayLike<number>),
  }
}

describe('gdaldem (GDAL 3.6.2) of a terrain model of Olinda, without edges', () => {
  let terrain: Terrain
  beforeAll(async () => {
    terrain = {
      ...(await tiffValues('olinda/terrain.tif')),
      cellX: 89.994067349451157,
      cellY: 89.994067349451157,
    }
  })
  const lit = { azimuthDeg: 315, altitudeDeg: 45, zFactor: 1 }

  test.each([
    ['hillshade-az315-alt45', () => hillshade(terrain, { ...lit, edges: 'leave' })],
    [
      'hillshade-az90-alt30-z2',
      () => hillshade(terrain, { azimuthDeg: 90, altitudeDeg: 30, zFactor: 2, edges: 'leave' }),
    ],
    ['hillshade-edges', () => hillshade(terrain, { ...lit, edges: 'fill' })],
    [
      'hillshade-multidirectional',
      () => multiHillshade(terrain, { altitudeDeg: 45, zFactor: 1, edges: 'leave' }),
    ],
  ] as const)(
    '%s: the same grey, one apart where single precision rounds the other way',
    async (name, ours) => {
      const expected = Uint8Array.from((await tiffValues(`olinda/expected-${name}.tif`)).values)
      const { most, mean, unlike } = difference(ours(), expected)
      expect(unlike).toBe(0)
      expect(most).toBeLessThanOrEqual(1)
      expect(mean).toBeLessThan(0.001)
    },
  )

  test.each([
    ['slope-deg-horn', 1e-5, () => slope(terrain, { unit: 'degrees', zFactor: 1, edges: 'leave' })],
    ['slope-percent', 1e-5, () => slope(terrain, { unit: 'percent', zFactor: 1, edges: 'leave' })],
    ['aspect-horn', 1e-4, () => aspect(terrain, { edges: 'leave' })],
  ] as const)('%s: the same within %d, level ground facing nowhere', async (name, tolerance, ours) => {
    const raw = (await tiffValues(`olinda/expected-${name}.tif`)).values
    const { most, unlike, compared } = difference(
      ours(),
      raw.map((value) => (value === -9999 ? Number.NaN : value)),
    )
    expect(compared).toBeGreaterThan(5000)
    expect(unlike).toBe(0)
    expect(most).toBeLessThan(tolerance)
  })
})

test('QGIS, arrays printed in the tests of xarray-spatial: slope and aspect within 5e-5 degrees', () => {
  const terrain = { columns: 6, rows: 8, cellX: 1, cellY: 1, values: fixtureCsv('qgis-8x6/heights.csv') }
  const inner = (i: number): boolean => i >= 12 && i < 42 && i % 6 > 0 && i % 6 < 5
  const [steep, facing] = [
    difference(
      slope(terrain, { unit: 'degrees', zFactor: 1, edges: 'leave' }),
      fixtureCsv('qgis-8x6/expected-slope.csv'),
      inner,
    ),
    difference(aspect(terrain, { edges: 'leave' }), fixtureCsv('qgis-8x6/expected-aspect.csv'), inner),
  ]
  expect([steep.compared, facing.compared]).toEqual([20, 20])
  expect(steep.most).toBeLessThan(5e-5)
  expect(facing.most).toBeLessThan(5e-5)
})

describe('a rough terrain with holes, cells of 0.5 x 0.8 m', () => {
  const made = fixtureJson<{
    columns: number
    rows: number
    cellX: number
    cellY: number
    holed: JsonRows
    smooth: JsonRows
  }>('rough-ground/terrain.json')
  const expected = fixtureJson<Record<string, JsonRows>>('rough-ground/expected.json')
  const terrain: Terrain = { ...made, values: valuesOf(made.holed) }
  const fill = { edges: 'fill' } as const
  const leave = { edges: 'leave' } as const
  const light = { azimuthDeg: 290, altitudeDeg: 35, zFactor: 2 }

  test.each([
    ['hillshade', () => hillshade(terrain, { ...light, ...fill })],
    ['hillshade-left', () => hillshade(terrain, { ...light, ...leave })],
    ['multi-hillshade', () => multiHillshade(terrain, { altitudeDeg: 45, zFactor: 1, ...fill })],
  ] as const)('%s: every grey is that of GDAL 3.6.2, at edges and beside holes too', (name, ours) => {
    const theirs = valuesOf(expected[name]!).map((grey) => (Number.isNaN(grey) ? 0 : grey))
    expect(ours()).toEqual(Uint8Array.from(theirs))
  })

  test.each([
    ['slope', 5e-6, 'GDAL 3.6.2', () => slope(terrain, { unit: 'degrees', zFactor: 1, ...fill })],
    ['slope-left', 5e-6, 'GDAL 3.6.2', () => slope(terrain, { unit: 'degrees', zFactor: 1, ...leave })],
    [
      'slope-percent',
      5e-6,
      'GDAL 3.6.2, scale 0.5',
      () => slope(terrain, { unit: 'percent', zFactor: 2, ...fill }),
    ],
    ['box-3m', 2e-7, 'OpenCV 4.6.0', () => boxRelief(terrain, { radiusM: 3, ...fill })],
    ['bell-3m', 2e-7, 'SciPy 1.10.1', () => gaussianRelief(terrain, { radiusM: 3, ...fill })],
  ] as const)('%s: within %d of %s', (name, tolerance, _, ours) => {
    const { most, unlike } = difference(ours(), valuesOf(expected[name]!))
    expect(unlike).toBe(0)
    expect(most).toBeLessThan(tolerance)
  })

  // SAGA takes the nearest cell for a place between two, and a cell at a corner as one cell away (see SOURCE.md): its horizons are higher.
  test.each([
    ['sky-view', 0.04, 0.02],
    ['openness-up', 3, 1.5],
    ['openness-down', 3, 1.5],
  ] as const)(
    '%s: within %d of SAGA 8.5.0, in the mean within %d, and on the open side',
    (name, tolerance, mean) => {
      const square: Terrain = { ...made, cellX: 1, cellY: 1, values: valuesOf(made.smooth) }
      const options = { radiusM: 10, directions: 16, zFactor: 1, edges: 'fill' } as const
      const ours =
        name === 'sky-view'
          ? skyView(square, options)
          : openness(square, { ...options, towards: name === 'openness-up' ? 'up' : 'down' })
      const inner = (i: number): boolean => {
        const [row, column] = [Math.floor(i / made.columns), i % made.columns]
        return row >= 10 && row < made.rows - 10 && column >= 10 && column < made.columns - 10
      }
      const theirs = valuesOf(expected[name]!)
      const apart = difference(ours, theirs, inner)
      expect(apart.compared).toBe(9 * 17)
      expect(apart.most).toBeLessThan(tolerance)
      expect(apart.mean).toBeLessThan(mean)
      let lean = 0
      for (let i = 0; i < theirs.length; i++) if (inner(i)) lean += ours[i]! - theirs[i]!
      expect(lean).toBeGreaterThan(0)
    },
  )
})
