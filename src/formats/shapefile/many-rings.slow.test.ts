import { expect, test } from 'vitest'
import { layerZip, shapeFile } from '../../../test/shapefile/shapefile-writer.ts'
import { readShapefile } from './index.ts'

test('a shape of twenty thousand rings takes a moment, one made to take hours is left out in words', () => {
  const box = (x: number, y: number, size: number): number[] => [
    x,
    y,
    x,
    y + size,
    x + size,
    y + size,
    x + size,
    y,
    x,
    y,
  ]
  const hole = (x: number, y: number, size: number): number[] => [
    x,
    y,
    x + size,
    y,
    x + size,
    y + size,
    x,
    y + size,
    x,
    y,
  ]
  const spread = Array.from({ length: 10_000 }, (_, i) => [Math.floor(i / 100), i % 100] as const)
  const many = spread.flatMap(([x, y]) => [box(x - 50, y - 50, 0.9), hole(x - 49.8, y - 49.8, 0.5)])
  const nested = Array.from({ length: 20_000 }, (_, i) => hole(i / 1000 - 40, i / 1000 - 40, 80 - i / 500))
  const { shp } = shapeFile([
    { kind: 5, parts: many },
    { kind: 5, parts: nested },
    { kind: 5, parts: nested },
  ])
  const { areas, faults } = readShapefile(layerZip({ shp }), { fileName: 'a.zip' })
  expect(areas[0]!.polygons).toHaveLength(10_000)
  expect(areas[0]!.polygons.every(({ rings }) => rings.length === 2)).toBe(true)
  expect(areas).toHaveLength(1)
  expect(faults.filter(({ code }) => code === 'unsafe-file')).toHaveLength(2)
}, 120_000)
