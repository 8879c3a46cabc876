import { readdirSync, readFileSync } from 'node:fs'
import { zipSync } from 'fflate'
import { expect, test } from 'vitest'
import type { FileContent } from '#core/record'
import { readShapefile } from './index.ts'

type Position = readonly number[]
interface Feature {
  readonly properties: Readonly<Record<string, unknown>>
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null
}

const folder = (name: string): URL => new URL(`../../../fixtures/formats/${name}/`, import.meta.url)
const bytesOf = (home: URL, file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, home)))

/** The parts of some layers as one archive. */
function zipped(home: URL, ...stems: readonly string[]): Uint8Array {
  const names = readdirSync(home).filter((name) => /\.(shp|shx|dbf|prj|cpg)$/.test(name))
  const wanted = names.filter((name) => stems.includes(name.slice(0, -4)))
  return zipSync(Object.fromEntries(wanted.map((name) => [name, bytesOf(home, name)])))
}

const pairs = (xy: Float64Array): Position[] =>
  Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!])

const flat = (position: Position): Position => position.slice(0, 2)

/** A closed ring as text that does not depend on where it starts and which way it runs. */
function ringText(ring: readonly Position[]): string {
  const corners = ring.slice(1).map((position) =>
    flat(position)
      .map((number) => number.toFixed(6))
      .join(),
  )
  const first = corners.indexOf(corners.toSorted()[0]!)
  const onwards = [...corners.slice(first), ...corners.slice(0, first)]
  const back = [onwards[0]!, ...onwards.slice(1).reverse()]
  return [onwards.join(' '), back.join(' ')].sort()[0]!
}

/** Polygons as texts, the outer ring first and holes in no order. */
function polygonTexts(polygons: readonly (readonly (readonly Position[])[])[]): string[] {
  return polygons
    .map((rings) => rings.map(ringText))
    .map(([outer, ...holes]) => [outer, ...holes.sort()].join(' / '))
    .sort()
}

/** Everything that came of the features that GDAL, or the other reader, gives for the same file. */
function compare(content: FileContent, features: readonly Feature[]): void {
  const spots = [...content.findspots]
  const tracks = [...content.tracks]
  const areas = [...content.areas]
  for (const { geometry, properties } of features) {
    if (geometry === null) continue
    const { type } = geometry
    const several = type.startsWith('Multi')
    const coordinates = (several ? geometry.coordinates : [geometry.coordinates]) as never
    if (type.endsWith('Point')) {
      for (const [x, y, z] of coordinates as Position[]) {
        const spot = spots.shift()!
        expect([spot.x, spot.y]).toEqual([x, y])
        if (z !== undefined) expect(spot.elevation).toBe(z)
        expect(values(spot)).toMatchObject(textsOf(properties))
      }
    } else if (type.endsWith('LineString')) {
      const track = tracks.shift()!
      const lines = coordinates as Position[][]
      expect(track.walked).toBe(true)
      expect(pairs(track.xy)).toEqual(lines.flat().map(flat))
      expect([...track.segmentStart]).toEqual(
        lines.map((_, i) => lines.slice(0, i).reduce((sum, { length }) => sum + length, 0)),
      )
      const heights = lines.flat().flatMap((position) => position.slice(2))
      if (heights.length > 0) expect([...track.elevation!]).toEqual(heights)
      expect(values(track)).toMatchObject(textsOf(properties))
    } else {
      const area = areas.shift()!
      const polygons = coordinates as Position[][][]
      expect(polygonTexts(area.polygons.map(({ rings }) => rings.map(pairs)))).toEqual(polygonTexts(polygons))
      expect(values(area)).toMatchObject(textsOf(properties))
    }
  }
  expect([spots.length, tracks.length, areas.length]).toEqual([0, 0, 0])
}

/** Attributes with the name, and a find's values, under no matter what names: only their texts are compared. */
function values(item: { name: string | null; attributes: Readonly<Record<string, string>> }): object {
  const find = 'find' in item ? (item.find as Record<string, unknown> | null) : null
  const depth = typeof find?.depthM === 'number' ? find.depthM * 100 : null
  const known = Object.values({ ...find, ...item.attributes, depth, name: item.name })
  return Object.fromEntries(known.filter((value) => value !== null).map((value) => [comparable(value), true]))
}

function textsOf(properties: Readonly<Record<string, unknown>>): object {
  const given = Object.values(properties).filter((value) => value !== null && value !== '')
  return Object.fromEntries(given.map((value) => [comparable(value), true]))
}

/** Numbers by their value, dates by their day, text without blanks around. */
function comparable(value: unknown): string {
  const text = String(value).trim()
  const day = /^\d{4}-\d{2}-\d{2}/.exec(text)?.[0]
  return (
    day?.replaceAll('-', '') ?? (text !== '' && Number.isFinite(Number(text)) ? String(Number(text)) : text)
  )
}

const mbostock = folder('shapefile')
const stems = readdirSync(mbostock)
  .filter((name) => name.endsWith('.json'))
  .map((name) => name.slice(0, -5))

test.each(stems)('%s agrees with the values that its own project expects', (stem) => {
  const { features } = JSON.parse(readFileSync(new URL(`${stem}.json`, mbostock), 'utf8')) as {
    features: readonly Feature[]
  }
  const content = readShapefile(zipped(mbostock, stem), { fileName: `${stem}.zip` })
  compare(content, features)
  const nulls = features.filter(({ geometry }) => geometry === null).length
  expect(content.faults.filter(({ text }) => text.endsWith('it has no position.'))).toHaveLength(nulls)
})

const gdal = folder('shapefile-gdal')
const fromGdal = JSON.parse(readFileSync(new URL('expected.json', gdal), 'utf8')) as Record<string, Feature[]>

test.each([
  ['fields', 27_700],
  ['walks', 27_700],
  ['spots', 4326],
  ['scatter', 32_631],
])('%s, written by GDAL 3.6.2, agrees with what GDAL reads, in EPSG:%i', (stem, epsg) => {
  const content = readShapefile(zipped(gdal, stem), { fileName: `${stem}.zip` })
  compare(content, fromGdal[stem]!)
  for (const { epsg: found } of [...content.areas, ...content.tracks, ...content.findspots])
    expect(found).toBe(epsg)
  expect(content.faults.map(({ code }) => code)).toEqual(stem === 'walks' ? ['no-times'] : [])
})

test('holes and parts of the polygons lie where GDAL has them', () => {
  const { areas } = readShapefile(zipped(gdal, 'fields'), { fileName: 'fields.zip' })
  const shape = areas.map(({ name, polygons }) => [name, polygons.map(({ rings }) => rings.length)])
  expect(shape).toEqual([
    ['Millfield', [4]],
    ['Long Drove', [2, 2, 3]],
    [null, [1]],
  ])
  expect(areas[0]!.attributes).toEqual({
    crop: 'barley',
    ha: expect.stringMatching(/^3\.250*$/),
    rows: '41',
    sown: '2026-03-14',
    note: 'Wörth’s corner – wet',
  })
})

test('finds of a table are finds', () => {
  const { findspots } = readShapefile(zipped(gdal, 'spots'), { fileName: 'spots.zip' })
  expect(findspots[0]).toMatchObject({
    elevation: 3.5,
    find: { number: 'NST-2026-001', object: 'buckle', material: 'copper alloy', weightG: 12.5, depthM: 0.15 },
    attributes: { found: '2026-04-02' },
  })
})

test('several layers, nested and with capitals, come in together, each in its own system', () => {
  const put = (name: string, as: string): [string, Uint8Array] => [as, bytesOf(gdal, name)]
  const archive = zipSync(
    Object.fromEntries([
      ...['shp', 'shx', 'dbf', 'prj', 'cpg'].flatMap((part) => [
        put(`fields.${part}`, `Export 1/land/FIELDS.${part.toUpperCase()}`),
        put(`scatter.${part}`, `Export 1/finds/scatter.${part}`),
      ]),
      ['__MACOSX/Export 1/land/._FIELDS.SHP', new Uint8Array(120)],
      ['../evil.shp', bytesOf(gdal, 'fields.shp')],
    ]),
  )
  const content = readShapefile(archive, { fileName: 'all.zip' })
  expect(content.areas.map(({ epsg, attributes }) => [epsg, attributes.layer])).toEqual([
    [27_700, 'FIELDS'],
    [27_700, 'FIELDS'],
    [27_700, 'FIELDS'],
  ])
  expect(content.findspots.map(({ epsg, attributes }) => [epsg, attributes.layer])).toEqual(
    Array.from({ length: 4 }, () => [32_631, 'scatter']),
  )
  expect(content.faults).toEqual([
    { line: null, code: 'unsafe-file', text: '1 entry points outside the archive and was not read.' },
  ])
})

const languages = JSON.parse(readFileSync(new URL('languages.json', gdal), 'utf8')) as {
  bytes: number[]
  texts: Record<string, string>
}

test.each(Object.entries(languages.texts))(
  'language byte %s of a table means what it means to GDAL',
  (language, text) => {
    const dbf = bytesOf(mbostock, 'latin1-property.dbf')
    dbf[29] = Number(language)
    dbf.fill(0x20, 66)
    dbf.set(languages.bytes, 66)
    const archive = zipSync({
      'a.shp': bytesOf(mbostock, 'latin1-property.shp'),
      'a.prj': bytesOf(mbostock, 'latin1-property.prj'),
      'a.dbf': dbf,
    })
    const { findspots, faults } = readShapefile(archive, { fileName: 'a.zip' })
    // Bytes that a code page leaves free: GDAL drops them, the Encoding Standard keeps them as controls.
    expect(findspots[0]!.name!.replace(/[\u0080-\u009f]/g, '')).toBe(text)
    expect(faults).toEqual([])
  },
)
