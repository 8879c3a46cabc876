import { readFileSync } from 'node:fs'
import { parse } from 'csv-parse/sync'
import { zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import type { FileContent } from '#core/record'
import { isoSeconds } from '#formats/time'
import { readKml, readKmz } from './index.ts'

const fixtures = new URL('../../../fixtures/formats/kml/', import.meta.url)
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const options = { fileName: 'field.kml' }
const inKml = (inner: string): string =>
  `<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document>${inner}</Document></kml>`
const read = (inner: string): FileContent => readKml(utf8(inKml(inner)), options)
const codes = (content: FileContent): string[] => content.faults.map(({ code }) => code)

interface Expected {
  readonly points: number[][]
  readonly lines: number[][][]
  readonly polygons: number[][][][]
  readonly names: string[]
  readonly times: string[]
}

const pairs = (xy: Float64Array): number[][] =>
  Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!])
const sorted = (list: unknown[]): string[] => list.map((item) => JSON.stringify(item)).sort()

function segments({ tracks }: FileContent): number[][][] {
  return tracks.flatMap(({ xy, segmentStart }) =>
    Array.from(segmentStart, (from, i) =>
      pairs(xy.slice(2 * from, 2 * (segmentStart[i + 1] ?? xy.length / 2))),
    ),
  )
}

// What togeojson makes of its own files: fixtures/formats/kml/SOURCE.md.
const expected: Record<string, Expected> = JSON.parse(
  readFileSync(new URL('expected-togeojson.json', fixtures), 'utf8'),
)
/** togeojson draws a ground overlay, or the region of a link, as a rectangle; a survey has no place for either. */
const rectangles = ['ground_overlay.kml', 'ground_overlay_quad.kml', 'networklink.kml']
/** togeojson makes the first fix of a gx:Track without times a point, and drops the rest. */
const untimed = 'addresses.kml'
const agreeing = Object.keys(expected).filter((file) => ![...rectangles, untimed].includes(file))

test.each(agreeing)('%s agrees with togeojson', (file) => {
  const content = readKml(readFileSync(new URL(`togeojson/${file}`, fixtures)), { fileName: file })
  const { points, lines, polygons, names, times } = expected[file]!
  const flat = (position: number[]): number[] => position.slice(0, 2)
  expect(sorted(content.findspots.map(({ x, y }) => [x, y]))).toEqual(sorted(points.map(flat)))
  expect(sorted(segments(content))).toEqual(sorted(lines.map((line) => line.map(flat))))
  expect(sorted(content.areas.flatMap((area) => area.polygons.map(({ rings }) => rings.map(pairs))))).toEqual(
    sorted(polygons.map((rings) => rings.map((ring) => ring.map(flat)))),
  )
  const heard = [...content.findspots, ...content.tracks, ...content.areas].flatMap(({ name }) =>
    name === null || name === '' ? [] : [name],
  )
  expect(sorted([...new Set(heard)])).toEqual(sorted([...new Set(names.map((name) => name.trim()))]))
  const seconds = content.tracks.flatMap(({ time }) => [...(time ?? [])])
  expect(seconds.sort()).toEqual(times.map(isoSeconds).sort())
})

test.each(rectangles)('%s: overlays and links are named, not read', (file) => {
  const content = readKml(readFileSync(new URL(`togeojson/${file}`, fixtures)), { fileName: file })
  expect(content).toMatchObject({ tracks: [], areas: [], findspots: [] })
  expect(codes(content)).toEqual(['unsupported-feature'])
})

test('a gx:Track without times is a track', () => {
  const content = readKml(readFileSync(new URL(`togeojson/${untimed}`, fixtures)), { fileName: untimed })
  expect(content.tracks).toHaveLength(expected[untimed]!.points.length)
  const firsts = content.tracks.map(({ xy }) => [xy[0], xy[1]])
  expect(sorted(firsts)).toEqual(sorted(expected[untimed]!.points.map((point) => point.slice(0, 2))))
})

// What GDAL's LIBKML driver makes of the files of the OGC test suites: fixtures/formats/kml/SOURCE.md.
const rows: Record<string, string>[] = parse(readFileSync(new URL('expected-gdal.csv', fixtures)), {
  columns: true,
})
/** Rectangles of five corners that GDAL makes of ground overlays and of the region of a link. */
const drawn: Record<string, number> = {
  'Document-clean.kml': 1,
  'Document-deprecated.kml': 1,
  'KML_Samples.kml': 1,
  'small_world.kmz': 1,
}

test.each(rows.map((row) => [row.file!, row] as const))('%s agrees with GDAL', (file, row) => {
  const bytes = readFileSync(new URL(`ogc/${file}`, fixtures))
  const content = (file.endsWith('.kmz') ? readKmz : readKml)(bytes, { fileName: file })
  const polygons = content.areas.flatMap((area) => area.polygons)
  const corners = polygons.flatMap(({ rings }) => rings).reduce((sum, ring) => sum + ring.length / 2, 0)
  const fixes = content.tracks.reduce((sum, { xy }) => sum + xy.length / 2, 0)
  expect({
    points: content.findspots.length,
    lines: segments(content).length,
    polygons: polygons.length + (drawn[file] ?? 0),
    vertices: content.findspots.length + fixes + corners + 5 * (drawn[file] ?? 0),
  }).toEqual({
    points: Number(row.points),
    lines: Number(row.lines),
    polygons: Number(row.polygons),
    vertices: Number(row.vertices),
  })
})

// Files that the OGC test suite holds to be wrong.
test('a tuple of one number, or a latitude of 92, costs that position of a line and is named', () => {
  for (const [file, code] of [
    ['LinearRingWith1DTuple.kml', 'bad-value'],
    ['LinearRingWithInvalidLat.kml', 'coordinate-out-of-range'],
  ] as const) {
    const content = readKml(readFileSync(new URL(`ogc/${file}`, fixtures)), { fileName: file })
    expect(content.faults[0]).toMatchObject({ line: 4, code })
    expect(content.tracks[0]!.xy.length / 2).toBe(4)
  }
})

test('a Placemark keeps name, description, time, data and folder', () => {
  const { findspots } = read(
    `<Folder><name>2024</name><Folder><name>May</name><Placemark id="p1"><name> S1 </name>
    <description>by <b>the</b> gate</description><TimeStamp><when>2024-05-01T10:00:00+01:00</when></TimeStamp>
    <styleUrl>#red</styleUrl><ExtendedData><Data name="object"><displayName>O</displayName><value>buckle</value></Data>
    <SchemaData><SimpleData name="weight_g">12.5</SimpleData></SchemaData><camp:crop xmlns:camp="u">wheat</camp:crop>
    </ExtendedData><Point><coordinates>0.25,52.5,8</coordinates></Point></Placemark></Folder></Folder>`,
  )
  expect(findspots).toEqual([
    {
      epsg: 4326,
      name: 'S1',
      x: 0.25,
      y: 52.5,
      accuracyM: null,
      elevation: 8,
      time: isoSeconds('2024-05-01T09:00:00Z'),
      note: 'by the gate',
      find: {
        number: null,
        object: 'buckle',
        material: null,
        period: null,
        count: 1,
        weightG: 12.5,
        depthM: null,
      },
      attributes: { id: 'p1', styleUrl: '#red', crop: 'wheat', folder: '2024 / May' },
    },
  ])
})

test('polygons keep holes and parts; an inner ring may come first', () => {
  const ring = (x: number): string =>
    `<LinearRing><coordinates>${x},0 ${x + 1},0 ${x + 1},1 ${x},0</coordinates></LinearRing>`
  const { areas } = read(
    `<Placemark><name>N</name><MultiGeometry><Polygon><innerBoundaryIs>${ring(0.2)}</innerBoundaryIs>
    <outerBoundaryIs>${ring(0)}</outerBoundaryIs></Polygon><Polygon><outerBoundaryIs>${ring(5)}</outerBoundaryIs>
    </Polygon></MultiGeometry></Placemark>`,
  )
  expect(areas).toHaveLength(1)
  expect(areas[0]!.polygons.map(({ rings }) => rings.map((r) => r[0]))).toEqual([[0, 0.2], [5]])
})

test('a gx:Track has times, gaps of position, and columns', () => {
  const { tracks, faults } = read(
    `<Placemark><gx:Track><when>2024-05-01T10:00:00Z</when><when>2024-05-01T10:00:01Z</when>
    <when>2024-05-01T10:00:02Z</when><gx:coord>0.1 52 8</gx:coord><gx:coord></gx:coord><gx:coord>0.3 52</gx:coord>
    <ExtendedData><SchemaData><gx:SimpleArrayData name="hr"><gx:value>90</gx:value><gx:value>91</gx:value>
    <gx:value>92</gx:value></gx:SimpleArrayData></SchemaData></ExtendedData></gx:Track></Placemark>`,
  )
  const t = isoSeconds('2024-05-01T10:00:00Z')
  expect(faults).toEqual([])
  expect([...tracks[0]!.xy]).toEqual([0.1, 52, 0.3, 52])
  expect([...tracks[0]!.time!]).toEqual([t, t + 2])
  expect([...tracks[0]!.elevation!]).toEqual([8, Number.NaN])
  expect(tracks[0]!.extras).toEqual([{ name: 'hr', at: [0, 1], text: ['90', '92'] }])
})

test('times that do not fit their fixes are left out and said', () => {
  const { tracks, faults } = read(
    '<Placemark><gx:Track><when>2024-05-01T10:00:00Z</when><gx:coord>0 52</gx:coord><gx:coord>0 53</gx:coord></gx:Track></Placemark>',
  )
  expect(tracks[0]!.time).toBeNull()
  expect(faults.map(({ code }) => code)).toEqual(['bad-value', 'no-times'])
})

test.each([
  [
    'a position of words',
    '<Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0 x,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon>',
    'bad-value',
  ],
  [
    'two corners',
    '<Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0</coordinates></LinearRing></outerBoundaryIs></Polygon>',
    'area-invalid',
  ],
  [
    'no ground',
    '<Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,1 2,2 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon>',
    'area-invalid',
  ],
  ['a point far off', '<Point><coordinates>500,0</coordinates></Point>', 'coordinate-out-of-range'],
  ['latitude first', '<Point><coordinates>52,-120</coordinates></Point>', 'coordinates-swapped'],
  ['empty coordinates', '<Point><coordinates/></Point>', 'unsupported-feature'],
  ['no geometry', '', 'unsupported-feature'],
])('%s is one fault with a line', (_, geometry, code) => {
  const content = read(`\n\n<Placemark><name>P</name>${geometry}</Placemark>`)
  expect(content.faults.map((fault) => [fault.line, fault.code])).toEqual([[3, code]])
})

test('a KMZ is read by its main file, inside bounds', () => {
  const kml = utf8(inKml('<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>'))
  const content = readKmz(zipSync({ 'a.kml': utf8('<kml/>'), 'sub/doc.kml': kml, 'doc.kml': kml }), options)
  expect(content.kind).toBe('kmz')
  expect(content.findspots).toHaveLength(1)
  expect(content.faults.map(({ text }) => text)).toEqual([
    'Only doc.kml was read; 2 more KML files lie beside it.',
  ])
  const outside = readKmz(zipSync({ '../doc.kml': kml, '/x.kml': kml, 'b.kml': kml }), options)
  expect(codes(outside)).toEqual(['unsafe-file'])
  expect(() => readKmz(zipSync({ 'a.txt': kml }), options)).toThrow(/holds no KML file/)
})

test('a KMZ made to swell is refused unopened', () => {
  const zeros = zipSync({ 'doc.kml': new Uint8Array(20_000_000) }, { level: 9 })
  expect(zeros.length).toBeLessThan(100_000)
  expect(() => readKmz(zeros, options)).toThrow(/would swell to 19 MiB/)
  expect(() => readKmz(zeros.subarray(0, 5000), options)).toThrow(SurveyError)
})
