import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { readCsv } from '#formats/csv'
import { readGeoJson } from '#formats/geojson'
import { readGpx } from '#formats/gpx'
import { ostn15 } from '#work'
import { demoArea, demoTrack } from './demo-records.ts'
import { demoSurvey } from './demo-survey.ts'
import { demoFiles } from './index.ts'
import { toGrid } from './scenario.ts'

const grid = planarGrid(27_700, ostn15())
const seed = 1
const files = demoFiles(seed, grid)
const bytesOf = (end: string): Uint8Array => files.find(({ name }) => name.endsWith(end))!.bytes

test('there is an area, two walks on different days and a list of finds', () => {
  expect(files.map(({ name }) => name)).toEqual([
    'ninestile-search-area.geojson',
    '2026-09-12-walk-terrace-lower.gpx',
    '2026-09-20-walk-terrace-upper.gpx',
    'ninestile-finds.csv',
  ])
  expect(files.reduce((sum, { bytes }) => sum + bytes.length, 0)).toBeLessThan(5_000_000)
})

test('the same seed gives the same bytes, another seed other walks', () => {
  const again = demoFiles(seed, grid)
  expect(again.every(({ bytes }, i) => Buffer.from(bytes).equals(Buffer.from(files[i]!.bytes)))).toBe(true)
  const other = demoFiles(seed + 1, grid)
  expect(Buffer.from(other[1]!.bytes).equals(Buffer.from(files[1]!.bytes))).toBe(false)
})

test('the area reads back to the centimetre, with nothing to complain of', () => {
  const content = readGeoJson(bytesOf('.geojson'), { fileName: 'area' })
  expect(content.faults).toEqual([])
  expect(content.areas).toHaveLength(1)
  const expected = demoArea(grid)
  expect(content.areas[0]!.name).toBe('Terrace field')
  content.areas[0]!.polygons.forEach(({ rings }, p) => {
    rings.forEach((ring, r) => {
      const want = expected.polygons[p]!.rings[r]!
      expect(ring).toHaveLength(want.length)
      for (let i = 0; i < ring.length; i++) expect(Math.abs(ring[i]! - want[i]!)).toBeLessThan(1e-8)
    })
  })
})

test('the walks read back fix for fix, with times, heights and the break', () => {
  const { walks } = demoSurvey(seed)
  for (const walk of walks) {
    const content = readGpx(bytesOf(walk.plan.fileName), { fileName: walk.plan.fileName })
    expect(content.faults).toEqual([])
    const [track] = content.tracks
    const want = demoTrack(walk, grid)
    expect(track!.name).toBe(want.name)
    expect([...track!.segmentStart]).toEqual([...want.segmentStart])
    expect(track!.time).toEqual(want.time)
    expect(track!.elevation).toEqual(want.elevation)
    const off = track!.xy.reduce((most, value, i) => Math.max(most, Math.abs(value - want.xy[i]!)), 0)
    expect(off).toBeLessThan(1e-8)
  }
})

test('the finds read back with number, kind, depth, weight and place', () => {
  const { finds } = demoSurvey(seed)
  const content = readCsv(bytesOf('.csv'), { fileName: 'finds' })
  expect(content.faults).toEqual([])
  expect(content.findspots).toHaveLength(finds.length)
  content.findspots.forEach((spot, i) => {
    const want = finds[i]!
    expect(spot.find).toMatchObject({
      number: want.number,
      object: want.object,
      material: want.material,
      period: want.period,
      count: 1,
      weightG: want.weightG,
    })
    expect(spot.find!.depthM).toBeCloseTo(want.depthM, 9)
    expect(spot.time).toBe(want.time)
    const [easting, northing] = toGrid(want.place)
    expect(spot.epsg).toBe(27_700)
    expect(Math.hypot(spot.x - easting, spot.y - northing)).toBeLessThan(0.71)
  })
})
