import { expect, test } from 'vitest'
import type { WalkPack } from '#formats/walk-pack'
import { metresTo, packFrame, pathOf, pictureMatrix } from './pack-plan.ts'

const bare: WalkPack = {
  manifest: {
    format: 'lynchet-walk-pack',
    version: 1,
    survey: { uuid: 'u', code: 'NST', title: '' },
    plan: '',
    area: '',
    madeAt: '',
    spacingM: null,
    lengthM: 0,
    walkers: 1,
  },
  area: [],
  lanes: [],
  targets: [],
  constraints: { areas: [], tracks: [], findspots: [] },
  cautions: [],
  pictures: [],
}
const ring = Float64Array.of(0.35, 53, 0.3545, 53, 0.3545, 53.0018, 0.35, 53.0018, 0.35, 53)
const pack = { ...bare, area: [{ epsg: 4326, name: null, polygons: [{ rings: [ring] }], attributes: {} }] }

test('a pack without a place has no plan', () => {
  expect(packFrame(bare)).toBeNull()
})

test('metres agree with those of the ellipsoid to a part in two hundred', () => {
  const frame = packFrame(pack)!
  // By geographiclib-geodesic 2.2.0: 302.118 m along the parallel at 53 N, 200.315 m along the meridian. A globe is off by up to 0.5 %.
  expect(metresTo(frame, { lon: 0.35, lat: 53 }, { x: 0.3545, y: 53 }) / 302.118).toBeCloseTo(1, 2)
  expect(metresTo(frame, { lon: 0.35, lat: 53 }, { x: 0.35, y: 53.0018 }) / 200.315).toBeCloseTo(1, 2)
})

test('north is up and all lies in the box', () => {
  const frame = packFrame(pack)!
  const [west, north, width, height] = frame.box
  const points = pathOf(ring, frame)
    .slice(1)
    .split('L')
    .map((pair) => pair.split(' ').map(Number))
  for (const [x, y] of points) {
    expect(x! > west && x! < west + width && y! > north && y! < north + height).toBe(true)
  }
  expect(points[2]![1]!).toBeLessThan(points[0]![1]!)
})

test('a picture lies with its corners where they are', () => {
  const frame = packFrame(pack)!
  const corners = [
    [0.35, 53.0018],
    [0.3545, 53.0019],
    [0.3545, 53.0001],
    [0.35, 53],
  ] as const
  const [a, b, c, d, e, f] = pictureMatrix({ columns: 300, rows: 200, corners }, frame) as [
    ...[number, number, number],
    ...[number, number, number],
  ]
  const at = (column: number, row: number) => [a * column + c * row + e, b * column + d * row + f]
  for (const [place, [lon, lat]] of [
    [at(0, 0), corners[0]],
    [at(300, 0), corners[1]],
    [at(0, 200), corners[3]],
  ] as const) {
    expect(place[0]).toBeCloseTo(frame.east(lon), 6)
    expect(place[1]).toBeCloseTo(frame.south(lat), 6)
  }
})
