import { readFileSync } from 'node:fs'
import { gzipSync, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import type { FileContent } from '#core/record'
import { layerZip, shapeFile, table } from '../../../test/shapefile/shapefile-writer.ts'
import { readFile } from './index.ts'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const codes = (content: FileContent): string[] => content.faults.map(({ code }) => code)
const gpx = '<gpx><wpt lat="52" lon="0.1"><name>S1</name></wpt></gpx>'
const kml = '<kml><Placemark><Point><coordinates>0.1,52</coordinates></Point></Placemark></kml>'
const geojson = '{"type":"Point","coordinates":[0.1,52]}'
const csv = 'lat,lon\n52,0.1\n'
const point = shapeFile([{ kind: 1, parts: [[0.1, 52]] }])
const shapefile = layerZip({ ...point, dbf: table(['S1']) })

/** The code and sentence that reading ends with. */
function refusal(name: string, bytes: Uint8Array): { code: string; message: string } {
  try {
    const content = readFile(name, bytes)
    return expect.fail(`read as ${content.kind} with ${content.findspots.length} findspots`)
  } catch (cause) {
    if (!(cause instanceof SurveyError)) throw cause
    return { code: cause.code, message: cause.message }
  }
}

const utf16 = Buffer.from(`\uFEFF<?xml version="1.0" encoding="UTF-16"?>${gpx}`, 'utf16le')

test.each<[string, Uint8Array, string]>([
  ['walk.gpx', utf8(gpx), 'gpx'],
  ['walk.gpx', utf8(`\uFEFF<?xml version="1.0"?>\n<!-- <kml> -->\n${gpx}`), 'gpx'],
  ['walk.gpx', utf8(`<!DOCTYPE gpx SYSTEM "gpx.dtd">${gpx}`), 'gpx'],
  ['walk.GPX', utf16, 'gpx'],
  ['walk', utf8(gpx), 'gpx'],
  ['walk.xml', utf8(gpx), 'gpx'],
  ['walk.gpx.gz', gzipSync(utf8(gpx)), 'gpx'],
  ['field.kml', utf8(kml), 'kml'],
  ['field.kml', utf8('<LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing>'), 'kml'],
  ['field.kmz', zipSync({ 'doc.kml': utf8(kml) }), 'kmz'],
  ['field.zip', shapefile, 'shapefile'],
  ['field.shz', shapefile, 'shapefile'],
  ['field', shapefile, 'shapefile'],
  ['field.zip', zipSync({ 'field.kml': utf8(kml), 'field.shp': point.shp }), 'shapefile'],
  ['field.kmz', zipSync({ 'field.kml': utf8(kml), 'field.shp': point.shp }), 'kmz'],
  ['field.geojson', utf8(geojson), 'geojson'],
  ['field.json', utf8(`\n ${geojson}`), 'geojson'],
  ['finds.csv', utf8(csv), 'csv'],
  ['finds.txt', utf8(csv), 'csv'],
  ['finds.tsv', utf8(csv.replaceAll(',', '\t')), 'csv'],
])('%s is read as what its bytes are', (name, bytes, kind) => {
  const content = readFile(name, bytes)
  expect(content.kind).toBe(kind)
  expect(content.tracks.length + content.findspots.length).toBe(1)
  expect(codes(content).filter((code) => code === 'wrong-extension')).toEqual([])
})

test.each([
  ['walk.kml', gpx, 'gpx'],
  ['walk.jpg', gpx, 'gpx'],
  ['walk.csv', geojson, 'geojson'],
  ['walk.gpx', csv, 'csv'],
  ['walk.geojson', kml, 'kml'],
])('%s holding another kind is read, and the name noted', (name, text, kind) => {
  const content = readFile(name, utf8(text))
  expect(content.kind).toBe(kind)
  expect(codes(content)).toEqual(['wrong-extension'])
  expect(content.findspots).toHaveLength(1)
})

test('a shapefile under another name is read, and the name noted', () => {
  expect(readFile('field.gpx', shapefile).faults).toEqual([
    {
      line: null,
      code: 'wrong-extension',
      text: 'The name ends in .gpx, but this is a zipped shapefile; it was read as that.',
    },
  ])
})

test('one part of a shapefile is refused, and the way is shown', () => {
  expect(refusal('field.shp', point.shp).message).toContain(
    'it is one part of a shapefile; put all its parts into one zip.',
  )
})

test('a layer whose system cannot be told is refused with what to do', () => {
  const { shp, shx } = shapeFile([{ kind: 1, parts: [[433_474, 356_016]] }])
  expect(refusal('field.zip', layerZip({ shp, shx, dbf: table(['a']), prj: null }))).toEqual({
    code: 'unknown-system',
    message: expect.stringContaining('put the .prj that belongs to field.shp into the zip'),
  })
})

test.each([
  ['empty.gpx', ''],
  ['empty.csv', '  \n\n '],
  ['empty.gpx', '<?xml version="1.0"?><gpx version="1.1"/>'],
  ['empty.geojson', '{"type":"FeatureCollection","features":[]}'],
  ['empty.csv', 'lat,lon\n'],
])('%s with %j is an empty file', (name, text) => {
  expect(refusal(name, utf8(text))).toEqual({
    code: 'empty-file',
    message: expect.stringContaining(name),
  })
})

test.each<[string, Uint8Array, RegExp]>([
  ['a.gpx', Uint8Array.from({ length: 5000 }, (_, i) => (i * 2654435761) >>> 24), /no text and no known/],
  ['a.csv', new Uint8Array(100), /no text and no known/],
  ['photo.jpg', Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 0, 16), /a JPEG picture/],
  ['s.gpkg', utf8('SQLite format 3\0 ...'), /SQLite database/],
  ['walk.fit', Uint8Array.of(14, 16, 0x5c, 8, 1, 2, 3, 4, 0x2e, 0x46, 0x49, 0x54, 0, 0), /a FIT file/],
  ['a.html', utf8('<!DOCTYPE html><html><body>Sign in</body></html>'), /a web page/],
  ['a.tcx', utf8('<?xml version="1.0"?><TrainingCenterDatabase/>'), /a TCX file/],
  ['a.xml', utf8('<rss><channel/></rss>'), /XML of another kind \(<rss>\)/],
  ['a.json', utf8('{"name":"x"}'), /not GeoJSON/],
  ['letter.txt', utf8('Dear Ann,\nthank you for the map.\n'), /no table with positions/],
  ['a.zip', zipSync({ 'a.txt': utf8('x') }), /zip archive without KML/],
  ['a.xlsx', zipSync({ '[Content_Types].xml': utf8('<x/>') }), /an office document/],
  ['a.gpx.gz', gzipSync(gzipSync(utf8(gpx))), /packed more than once/],
])('%s is refused for what it is', (name, bytes, sentence) => {
  const { code, message } = refusal(name, bytes)
  expect(code).toBe('unknown-kind')
  expect(message).toMatch(sentence)
  expect(message.startsWith(name)).toBe(true)
})

test('a table without positions is a table, if its name says so', () => {
  const content = readFile('finds.csv', utf8('name,colour\na,b\n'))
  expect([content.kind, codes(content)]).toEqual(['csv', ['missing-columns']])
})

test('a GPX that is no longer XML at its start names the line where it becomes XML', () => {
  const content = readFile('walk.gpx', utf8('junk before\n<gpx><wpt lat="1" lon="2"/></gpx>'))
  expect(content.findspots).toHaveLength(1)
  expect(content.faults[0]).toMatchObject({ line: 2, code: 'bad-value' })
})

test('a packed GPX cut short keeps what came before', () => {
  let text = '<gpx><trk><trkseg>'
  for (let i = 0; i < 5000; i++) text += `<trkpt lat="${(52 + Math.sin(i) / 7).toFixed(7)}" lon="0.${i}"/>\n`
  const packed = gzipSync(utf8(`${text}</trkseg></trk></gpx>`))
  const content = readFile('walk.gpx.gz', packed.subarray(0, packed.length * 0.7))
  const fixes = content.tracks[0]!.xy.length / 2
  expect(fixes).toBeGreaterThan(2000)
  expect(fixes).toBeLessThan(5000)
  expect(codes(content).filter((code) => code === 'broken-file').length).toBeGreaterThan(0)
})

test('a gzip made to swell is refused', () => {
  const zeros = gzipSync(new Uint8Array(60_000_000).fill(32), { level: 9 })
  expect(refusal('walk.gpx.gz', zeros)).toEqual({
    code: 'unsafe-file',
    message: expect.stringContaining('swells to more than 250 times its size'),
  })
})

test('progress counts the bytes of the file, packed or not', () => {
  for (const bytes of [utf8(gpx), gzipSync(utf8(gpx)), utf8(csv), utf8(geojson), utf8(kml), shapefile]) {
    let last = 0
    readFile('walk', bytes, { progress: (done) => (last = done) })
    expect(last).toBe(bytes.length)
  }
})

test('a real packed file of another project', () => {
  const file = new URL('../../../fixtures/formats/gpx/gpxgo/graphhopper.gpx.gz', import.meta.url)
  const content = readFile('graphhopper.gpx.gz', readFileSync(file))
  expect(content.tracks.map(({ walked, xy }) => [walked, xy.length / 2])).toEqual([
    [false, 22],
    [true, 171],
  ])
})
