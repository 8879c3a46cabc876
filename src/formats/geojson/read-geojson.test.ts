import { readFileSync } from 'node:fs'
import { parse } from 'csv-parse/sync'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import type { FileContent } from '#core/record'
import { isoSeconds } from '#formats/time'
import { readGeoJson } from './index.ts'
import { scanJson } from './scan-json.ts'

const fixtures = new URL('../../../fixtures/formats/geojson/', import.meta.url)
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const read = (value: unknown): FileContent =>
  readGeoJson(utf8(typeof value === 'string' ? value : JSON.stringify(value)), { fileName: 'field.geojson' })
const feature = (geometry: unknown, properties: unknown = {}): unknown => ({
  type: 'Feature',
  geometry,
  properties,
})
const codes = (content: FileContent): string[] => content.faults.map(({ code }) => code)
const square = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [0, 0],
]

// What GDAL 3.6.2 makes of the files: fixtures/formats/geojson/SOURCE.md.
const rows: Record<string, string>[] = parse(readFileSync(new URL('expected.csv', fixtures)), {
  columns: true,
})
/** Longitudes down to -263 and latitudes to -141: RFC 7946 has no such places, and GDAL does not ask. */
const outOfRange = 'issue82.geojson'

test.each(rows.map((row) => [row.file!, row] as const))('%s agrees with GDAL', (file, row) => {
  const content = readGeoJson(readFileSync(new URL(file, fixtures)), { fileName: file })
  if (file === outOfRange) {
    expect(codes(content)).toEqual(['coordinate-out-of-range'])
    return
  }
  const polygons = content.areas.flatMap((area) => area.polygons)
  const rings = polygons.flatMap((polygon) => polygon.rings)
  const segments = content.tracks.reduce((sum, { segmentStart }) => sum + segmentStart.length, 0)
  const xy = [
    ...rings.flatMap((ring) => [...ring]),
    ...content.tracks.flatMap((track) => [...track.xy]),
    ...content.findspots.flatMap(({ x, y }) => [x, y]),
  ]
  const found = [content.findspots.length, segments, polygons.length, xy.length / 2]
  expect(found.map(String)).toEqual([row.points, row.lines, row.polygons, row.vertices])
  if (xy.length === 0) return
  const lons = xy.filter((_, i) => i % 2 === 0)
  const lats = xy.filter((_, i) => i % 2 === 1)
  expect([Math.min(...lons), Math.max(...lons), Math.min(...lats), Math.max(...lats)]).toEqual(
    [row.min_lon, row.max_lon, row.min_lat, row.max_lat].map(Number),
  )
})

test('polygons become areas, with holes, parts, name and the rest of their properties', () => {
  const hole = [
    [0.2, 0.2],
    [0.4, 0.2],
    [0.4, 0.4],
    [0.2, 0.2],
  ]
  const geometry = { type: 'MultiPolygon', coordinates: [[square, hole], [square]] }
  const { areas } = read({
    ...(feature(geometry, { Name: 'North', crop: 'barley', size: 3 }) as object),
    id: 7,
  })
  expect(areas).toHaveLength(1)
  expect(areas[0]!.name).toBe('North')
  expect(areas[0]!.attributes).toEqual({ crop: 'barley', size: '3', id: '7' })
  expect(areas[0]!.polygons.map(({ rings }) => rings.map((ring) => ring.length / 2))).toEqual([[5, 4], [5]])
})

test('lines become tracks with segments, heights and times', () => {
  const coordinates = [
    [
      [0, 1, 5],
      [0, 2],
    ],
    [
      [0, 3],
      [0, 4],
    ],
  ]
  const times = [
    ['2024-05-01T10:00:00Z', '2024-05-01T10:00:01Z'],
    [null, '2024-05-01T10:00:03Z'],
  ]
  for (const properties of [
    { coordTimes: times },
    { times: times.flat() },
    { coordinateProperties: { times } },
  ]) {
    const [track] = read(feature({ type: 'MultiLineString', coordinates }, properties)).tracks
    const t = isoSeconds('2024-05-01T10:00:00Z')
    expect([...track!.time!]).toEqual([t, t + 1, Number.NaN, t + 3])
    expect([...track!.elevation!]).toEqual([5, Number.NaN, Number.NaN, Number.NaN])
    expect([...track!.segmentStart]).toEqual([0, 2])
    expect(track!.walked).toBe(true)
    expect(track!.attributes).toEqual({})
  }
})

test('times that do not fit the line are left out and said', () => {
  const line = { type: 'LineString', coordinates: square }
  const few = read(feature(line, { coordTimes: ['2024-05-01T10:00:00Z'] }))
  expect(few.tracks[0]!.time).toBeNull()
  expect(few.faults[0]!.text).toBe('The feature: its times were left out, since there are 1 for 5 fixes.')
  expect(few.tracks[0]!.attributes).toEqual({ coordTimes: '["2024-05-01T10:00:00Z"]' })
})

test('points become findspots; an object or two values make a find', () => {
  const at = (properties: unknown): unknown =>
    feature({ type: 'Point', coordinates: [0.1, 52, 8] }, properties)
  const content = read({
    type: 'FeatureCollection',
    features: [
      at({
        name: 'S1',
        note: 'by the gate',
        object: 'buckle',
        'weight (g)': 12.5,
        depth_cm: 15,
        accuracy: 3,
        time: '2024-05-01T10:00:00Z',
        colour: 'green',
      }),
      at({ number: 7 }),
      at({ number: 'NST-2024-001', period: 'Roman', count: 'some' }),
    ],
  })
  expect(content.findspots[0]).toEqual({
    epsg: 4326,
    name: 'S1',
    x: 0.1,
    y: 52,
    accuracyM: 3,
    elevation: 8,
    time: isoSeconds('2024-05-01T10:00:00Z'),
    note: 'by the gate',
    find: {
      number: null,
      object: 'buckle',
      material: null,
      period: null,
      count: 1,
      weightG: 12.5,
      depthM: 0.15,
    },
    attributes: { colour: 'green' },
  })
  expect(content.findspots[1]).toMatchObject({ find: null, attributes: { number: '7' } })
  expect(content.findspots[2]).toMatchObject({
    find: { number: 'NST-2024-001', period: 'Roman', count: 1 },
    attributes: { count: 'some' },
  })
  expect(codes(content)).toEqual(['bad-value'])
})

const open = square.slice(0, 4)
const inCollection = (geometry: unknown): unknown => ({
  type: 'FeatureCollection',
  features: [feature({ type: 'Point', coordinates: [0, 0] }), feature(geometry)],
})

// RFC 7946, sections 3.1 and 4.
test.each([
  ['an open ring', { type: 'Polygon', coordinates: [open] }, 'area-invalid'],
  [
    'a ring of three',
    {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [1, 1],
          [0, 0],
        ],
      ],
    },
    'area-invalid',
  ],
  [
    'a ring of no area',
    {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [1, 1],
          [2, 2],
          [0, 0],
        ],
      ],
    },
    'area-invalid',
  ],
  ['a longitude of 181', { type: 'Point', coordinates: [181, 0] }, 'coordinate-out-of-range'],
  ['eastings and northings', { type: 'Point', coordinates: [543210, 312345] }, 'coordinate-out-of-range'],
  ['latitude first', { type: 'Point', coordinates: [52, 120] }, 'coordinates-swapped'],
  ['numbers as text', { type: 'Point', coordinates: ['0', '1'] }, 'bad-value'],
  ['a position of one', { type: 'Point', coordinates: [1] }, 'bad-value'],
  ['a polygon nested like a line', { type: 'Polygon', coordinates: square }, 'bad-value'],
  ['a line nested like a polygon', { type: 'LineString', coordinates: [square] }, 'bad-value'],
  ['a line of one', { type: 'LineString', coordinates: [[0, 0]] }, 'bad-value'],
  ['an unknown type', { type: 'Circle', coordinates: [0, 0] }, 'bad-value'],
  ['no type', { coordinates: [0, 0] }, 'bad-value'],
  ['a geometry that is none', 7, 'bad-value'],
  ['a collection without geometries', { type: 'GeometryCollection' }, 'bad-value'],
  ['no position', { type: 'MultiPoint', coordinates: [] }, 'unsupported-feature'],
  ['no geometry', null, 'unsupported-feature'],
  [
    'another reference system',
    { type: 'Point', coordinates: [0, 0], crs: { type: 'name', properties: { name: 'EPSG:27700' } } },
    'unsupported-feature',
  ],
])('%s costs its feature only', (_, geometry, code) => {
  const content = read(inCollection(geometry))
  expect(content.findspots).toHaveLength(1)
  expect(codes(content)).toEqual([code])
  expect(content.faults[0]!.text).toMatch(/^Feature 2 was left out: .+\.$/)
})

test('a reference system of the whole file rejects the file, unless it is WGS84', () => {
  const withCrs = (name: string): FileContent =>
    read({ ...(inCollection(null) as object), crs: { type: 'name', properties: { name } } })
  for (const name of ['urn:ogc:def:crs:OGC:1.3:CRS84', 'urn:ogc:def:crs:EPSG::4326', 'EPSG:4326']) {
    expect(withCrs(name).findspots).toHaveLength(1)
  }
  const content = withCrs('urn:ogc:def:crs:EPSG::27700')
  expect(content.findspots).toHaveLength(0)
  expect(content.faults[0]).toMatchObject({ code: 'unsupported-feature' })
  expect(content.faults[0]!.text).toContain('“urn:ogc:def:crs:EPSG::27700”')
})

test('a fault names the line of its feature', () => {
  const content = read(
    '{ "type": "FeatureCollection", "features": [\n\n {"type":"Feature","properties":{},\n"geometry":{"type":"Point","coordinates":[500,0]}} ] }',
  )
  expect(content.faults[0]).toMatchObject({ line: 3, code: 'coordinate-out-of-range' })
})

test('a file cut short keeps its complete features', () => {
  const point = (x: number): string => JSON.stringify(feature({ type: 'Point', coordinates: [x, 0] }))
  const whole = `{"type":"FeatureCollection","features":[\n${point(1)},\n${point(2)},\n${point(3)}]}`
  const content = read(whole.slice(0, whole.length - 20))
  expect(content.findspots.map(({ x }) => x)).toEqual([1, 2])
  expect(content.faults).toEqual([
    {
      line: 4,
      code: 'broken-file',
      text: expect.stringMatching(
        /^The text is no JSON from line 4, column \d+ on; the 2 complete features before it were kept\.$/,
      ),
    },
  ])
  const elsewhere = `{"crs":{"type":"name","properties":{"name":"EPSG:27700"}},${whole.slice(1, -5)}`
  expect(codes(read(elsewhere))).toEqual(['unsupported-feature'])
})

test.each([
  ['', 'empty-file'],
  ['{"type":"FeatureCollection","features":[]}', 'empty-file'],
  ['[1,2]', 'unknown-kind'],
  ['{"type":"Topology","objects":{}}', 'unknown-kind'],
  ['{"lat":52}', 'unknown-kind'],
  ['{"type":"FeatureCollection"}', 'bad-value'],
  ['{"type"', 'broken-file'],
])('%j is %s', (text, code) => expect(codes(read(text))).toEqual([code]))

test('values nested absurdly deep cost their feature, not the program', () => {
  const deep = `${'['.repeat(200_000)}${']'.repeat(200_000)}`
  const point = '"geometry":{"type":"Point","coordinates":[0,0]}'
  expect(codes(read(`{"type":"Feature","properties":{"a":${deep}},${point}}`))).toEqual(['unsafe-file'])
  expect(codes(read(`{"type":"Feature","properties":{},"geometry":{"type":${deep}}}`))).toEqual(['bad-value'])
  let nested = '{"type":"Point","coordinates":[0,0]}'
  for (let i = 0; i < 50; i++) nested = `{"type":"GeometryCollection","geometries":[${nested}]}`
  expect(codes(read(nested))).toEqual(['unsafe-file'])
})

test('the walk finds fault with exactly what JSON.parse refuses', () => {
  const mutated = fc
    .tuple(
      fc.json(),
      fc.array(fc.tuple(fc.nat(200), fc.constantFrom(...'{}[]",:\\0e.-t \n\u0001u')), { maxLength: 3 }),
    )
    .map(([json, edits]) =>
      edits.reduce((text, [at, c]) => {
        const i = at % (text.length + 1)
        return text.slice(0, i) + c + text.slice(i + (at % 2))
      }, json),
    )
  fc.assert(
    fc.property(mutated, (text) => {
      let good = true
      try {
        JSON.parse(text)
      } catch {
        good = false
      }
      expect(scanJson(text).error === null).toBe(good)
    }),
    { numRuns: 2000 },
  )
})
