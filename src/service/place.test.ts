import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import type { FileContent, RecordedFindspot } from '#core/record'
import { ostn15 } from '#work'
import { gridOfContent, placeContent } from './place.ts'

const national = planarGrid(27_700, ostn15())
const findspot = (epsg: number, x: number, y: number, name: string | null = null): RecordedFindspot => ({
  epsg,
  x,
  y,
  name,
  accuracyM: null,
  elevation: null,
  time: null,
  note: null,
  find: null,
  attributes: {},
})
const content = (more: Partial<FileContent>): FileContent => ({
  kind: 'csv',
  tracks: [],
  areas: [],
  findspots: [],
  faults: [],
  ...more,
})
const ring = (...xy: number[]): Float64Array => Float64Array.from(xy)

test('planar places keep their figures as given and get WGS84 beside', () => {
  const { placed, bounds } = placeContent(content({ findspots: [findspot(27_700, 558_450, 347_550)] }), null)
  const [spot] = placed.findspots
  expect(spot!.planar).toEqual({ epsg: 27_700, easting: 558_450, northing: 347_550, method: 'as given' })
  const back = Float64Array.of(spot!.recorded.x, spot!.recorded.y)
  national.forward(back, back)
  expect([...back]).toEqual([expect.closeTo(558_450, 3), expect.closeTo(347_550, 3)])
  expect(bounds).toEqual({ minX: 558_450, minY: 347_550, maxX: 558_450, maxY: 347_550 })
})

test('WGS84 places get planar ones by the grid’s own method', () => {
  const { placed } = placeContent(content({ findspots: [findspot(4326, 0.36, 53)] }), national)
  expect(placed.findspots[0]!.planar).toMatchObject({ epsg: 27_700, method: 'OSTN15' })
  expect(placed.findspots[0]!.recorded).toMatchObject({ x: 0.36, y: 53 })
})

test('a place in another grid goes through WGS84', () => {
  const zone31 = planarGrid(32_631, null)
  const pair = Float64Array.of(0.36, 53)
  zone31.forward(pair, pair)
  const { placed } = placeContent(content({ findspots: [findspot(32_631, pair[0]!, pair[1]!)] }), national)
  expect(placed.findspots[0]!.recorded.x).toBeCloseTo(0.36, 8)
  expect(placed.findspots[0]!.planar).toMatchObject({ epsg: 27_700, method: 'OSTN15' })
})

test('what the grid does not reach is kept, without planar figures, and told once for each kind', () => {
  const away = ['a', 'b', 'c', 'd'].map((name) => findspot(4326, 14.1, 45.3, name))
  const { placed, faults, bounds } = placeContent(content({ findspots: away }), national)
  expect(placed.findspots.map(({ planar }) => planar)).toEqual([null, null, null, null])
  expect(bounds).toBeNull()
  expect(faults).toEqual([
    {
      line: null,
      code: 'outside-grid',
      text: 'Partly or wholly outside British National Grid: 4 findspots ("a", "b", "c" and others). All is kept; what lies outside is not drawn or counted.',
    },
  ])
})

test('an outline that crosses itself is kept and its place told', () => {
  const bow = ring(558_000, 347_000, 558_010, 347_010, 558_010, 347_000, 558_000, 347_010, 558_000, 347_000)
  const area = { epsg: 27_700, name: 'bow', polygons: [{ rings: [bow] }], attributes: {} }
  const { placed, faults } = placeContent(content({ areas: [area] }), null)
  expect(placed.areas).toHaveLength(1)
  expect(placed.areas[0]!.given!.polygons[0]!.rings[0]).toEqual(bow)
  expect(faults).toContainEqual(expect.objectContaining({ code: 'area-invalid' }))
  expect(faults[0]!.text).toContain('easting 558005.00, northing 347005.00')
})

test('the grid of a survey is that of its first place', () => {
  expect(gridOfContent(content({ findspots: [findspot(4326, 0.36, 53)] }))!.epsg).toBe(27_700)
  expect(gridOfContent(content({ findspots: [findspot(4326, -6.3, 53.3)] }))!.epsg).toBe(2157)
  expect(gridOfContent(content({ findspots: [findspot(4326, 14.1, 45.3)] }))!.epsg).toBe(32_633)
  expect(gridOfContent(content({ findspots: [findspot(2157, 715_830, 734_697)] }))!.epsg).toBe(2157)
  expect(gridOfContent(content({}))).toBeNull()
})
