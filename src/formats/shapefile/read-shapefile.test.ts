import { expect, test } from 'vitest'
import type { FileContent } from '#core/record'
import { layerZip, shapeFile, type TestShape, table, utf8 } from '../../../test/shapefile/shapefile-writer.ts'
import { readShapefile } from './index.ts'

type Parts = Parameters<typeof layerZip>[0]

const read = (parts: Parts): FileContent => readShapefile(layerZip(parts), { fileName: 'field.zip' })
const shapes = (...list: TestShape[]): FileContent =>
  read({ ...shapeFile(list), dbf: table(list.map((_, i) => `n${i + 1}`)) })
const codes = ({ faults }: FileContent): string[] => faults.map(({ code }) => code)
const texts = ({ faults }: FileContent): string => faults.map(({ text }) => text).join('\n')

/** Rings as x, y lists, clockwise (ground) from the lower left corner; reversed pairs for holes. */
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
const turned = (ring: readonly number[]): number[] => {
  const out: number[] = []
  for (let i = ring.length - 2; i >= 0; i -= 2) out.push(ring[i]!, ring[i + 1]!)
  return out
}
const point = (x: number, y: number): TestShape => ({ kind: 1, parts: [[x, y]] })

test.each([1, 11, 21])('points of kind %i, with heights and measures where they have them', (kind) => {
  const { findspots, faults } = shapes({ kind, parts: [[1, 2]] })
  expect(findspots[0]).toMatchObject({
    epsg: 4326,
    name: 'n1',
    x: 1,
    y: 2,
    elevation: kind === 11 ? 7 : null,
  })
  expect(findspots[0]!.attributes).toEqual(kind === 1 ? {} : { M: '9' })
  expect(faults).toEqual([])
})

test.each([8, 18, 28])('multipoints of kind %i are a findspot a point, each with the attributes', (kind) => {
  const { findspots } = shapes({ kind, parts: [[1, 2, 3, 4]] })
  expect(findspots.map(({ x, y, name, elevation }) => [x, y, name, elevation])).toEqual([
    [1, 2, 'n1', kind === 18 ? 7 : null],
    [3, 4, 'n1', kind === 18 ? 7 : null],
  ])
})

test.each([3, 13, 23])('lines of kind %i are walked tracks, a segment a part', (kind) => {
  const content = shapes({
    kind,
    parts: [
      [0, 50, 0, 51],
      [1, 50, 1, 51, 2, 51],
    ],
  })
  const [track] = content.tracks
  expect(track).toMatchObject({ epsg: 4326, name: 'n1', walked: true, time: null, attributes: {} })
  expect([...track!.segmentStart]).toEqual([0, 2])
  expect([...track!.xy]).toEqual([0, 50, 0, 51, 1, 50, 1, 51, 2, 51])
  expect(track!.elevation && [...track!.elevation]).toEqual(kind === 13 ? [7, 7, 7, 7, 7] : null)
  const measures = { name: 'M', at: [0, 1, 2, 3, 4], text: ['9', '9', '9', '9', '9'] }
  expect(track!.extras).toEqual(kind === 3 ? [] : [measures])
  expect(codes(content)).toEqual(['no-times'])
})

test.each([5, 15, 25])('polygons of kind %i are areas', (kind) => {
  const content = shapes({ kind, parts: [box(0, 0, 9), turned(box(1, 1, 2))] })
  expect(content.areas).toMatchObject([{ epsg: 4326, name: 'n1' }])
  expect(content.areas[0]!.polygons.map(({ rings }) => rings.map((ring) => [...ring]))).toEqual([
    [box(0, 0, 9), turned(box(1, 1, 2))],
  ])
  expect(codes(content)).toEqual(kind === 5 ? [] : ['unsupported-feature'])
})

const grouping = (...parts: number[][]): [groups: number[][], codes: string[]] => {
  const content = shapes({ kind: 5, parts })
  const groups = content.areas[0]!.polygons.map(({ rings }) =>
    rings.map((ring) => Math.min(...ring.map(Math.abs))),
  )
  return [groups, codes(content)]
}

test('holes go to the smallest ground around them, islands in holes are ground', () => {
  const rings = [box(1, 1, 20), box(5, 5, 3), turned(box(3, 3, 10)), turned(box(6, 6, 1)), box(30, 30, 5)]
  expect(grouping(...rings)).toEqual([[[1, 3], [5, 6], [30]], []])
})

test('a hole that lies in no ground is ground, and that is said', () => {
  expect(grouping(box(1, 1, 2), box(10, 10, 2), turned(box(20, 20, 2)))).toEqual([
    [[1], [10], [20]],
    ['assumed'],
  ])
})

test('a hole that touches its ground along a corner belongs to it', () => {
  const corner = [2, 2, 4, 3, 3, 4, 2, 2]
  expect(grouping(box(2, 2, 9), corner, box(20, 20, 2))).toEqual([[[2, 2], [20]], []])
})

test('where all rings run the wrong way, holes are told by what lies in what', () => {
  expect(grouping(turned(box(1, 1, 20)))).toEqual([[[1]], []])
  const rings = [box(1, 1, 20), box(3, 3, 10), box(5, 5, 3), box(30, 30, 5)]
  expect(grouping(...rings.map(turned))).toEqual([[[1, 3], [5], [30]], ['assumed']])
})

test('rings that enclose no ground are left out; open ones are closed', () => {
  const content = shapes(
    { kind: 5, parts: [box(0, 0, 9), [1, 1, 2, 2, 1, 1]] },
    { kind: 5, parts: [[1, 1, 2, 2, 3, 3, 1, 1]] },
    { kind: 5, parts: [[0, 0, 0, 3, 3, 3]] },
  )
  expect(content.areas.map(({ name, polygons }) => [name, polygons[0]!.rings[0]!.length / 2])).toEqual([
    ['n1', 5],
    ['n3', 4],
  ])
  expect(texts(content)).toBe(
    'Record 1 of field.shp: one of its rings encloses no ground and was left out.\nRecord 2 of field.shp was left out: it encloses no ground.',
  )
})

test('null shapes, surfaces and figures that are none are named by their record', () => {
  const { shp } = shapeFile([point(1, 2), { kind: 0 }, point(3, 4), point(5, 6), point(200, 7)])
  new DataView(shp.buffer).setInt32(100 + 28 + 12 + 8, 31, true)
  new DataView(shp.buffer).setFloat64(100 + 28 + 12 + 28 + 8 + 4, Number.NaN, true)
  const content = read({ shp, dbf: table(['a', 'b', 'c', 'd', 'e']) })
  expect(content.findspots.map(({ name }) => name)).toEqual(['a'])
  expect(texts(content)).toBe(
    [
      'Record 2 of field.shp was left out: it has no position.',
      'Record 3 of field.shp was left out: it is a surface (MultiPatch).',
      'Record 4 of field.shp was left out: one of its coordinates is no number.',
      'Record 5 of field.shp was left out: 200, 7 is no longitude and latitude.',
    ].join('\n'),
  )
})

test('a file cut short keeps the records before', () => {
  const { shp, shx } = shapeFile([point(1, 2), point(3, 4), point(5, 6)])
  for (const index of [{}, { shx }]) {
    const content = read({ shp: shp.subarray(0, 170), ...index, dbf: table(['a', 'b', 'c']) })
    expect(content.findspots.map(({ x }) => x)).toEqual([1, 3])
    expect(texts(content)).toContain(
      'field.shp is cut short: it holds 170 of 184 bytes; 2 whole records were made out.',
    )
  }
})

test.each([
  ['too short by a word', 9, ['a', 'c', 'd']],
  ['too long by a word', 11, ['a', 'b', 'c', 'd']],
  ['so long that it leads past the next record', 24, ['a', 'b', 'c', 'd']],
  ['below nothing', -5, ['a', 'c', 'd']],
  ['beyond the file', 1000, ['a', 'c', 'd']],
])('a record whose length is %s costs itself at most, with an index or without', (_, words, kept) => {
  const { shp, shx } = shapeFile([point(1, 2), point(3, 4), point(5, 6), point(7, 8)])
  new DataView(shp.buffer).setInt32(100 + 28 + 4, words)
  const dbf = table(['a', 'b', 'c', 'd'])
  for (const index of [{}, { shx }]) {
    const content = read({ shp, ...index, dbf })
    expect(content.findspots.map(({ name, x }) => [name, x])).toEqual(
      kept.map((name) => [name, 1 + 2 * 'abcd'.indexOf(name)]),
    )
    expect(texts(content)).toContain(
      kept.length < 4 ? 'Record 2 of field.shp was left out' : 'field.shp is damaged',
    )
  }
})

test('a record that counts more vertices than it holds is left out', () => {
  const { shp } = shapeFile([
    { kind: 3, parts: [[0, 0, 1, 1]] },
    { kind: 3, parts: [[2, 2, 3, 3]] },
  ])
  new DataView(shp.buffer).setInt32(100 + 8 + 40, 2 ** 30, true)
  const content = read({ shp, dbf: table(['a', 'b']) })
  expect(content.tracks.map(({ name }) => name)).toEqual(['b'])
  expect(texts(content)).toMatch(/Record 1 of field.shp was left out: it is 80 bytes long and needs \d+/)
})

test('the index leads past records that an edited file no longer lists, and past an index that lies', () => {
  const { shp, shx } = shapeFile([point(1, 2), point(3, 4), point(5, 6)])
  const without = Uint8Array.from([...shx.subarray(0, 100), ...shx.subarray(108)])
  new DataView(without.buffer).setInt32(24, without.length / 2)
  expect(
    read({ shp, shx: without, dbf: table(['b', 'c']) }).findspots.map(({ x, name }) => [x, name]),
  ).toEqual([
    [3, 'b'],
    [5, 'c'],
  ])
  const lying = shx.slice()
  lying.fill(0xff, 100)
  const content = read({ shp, shx: lying, dbf: table(['a', 'b', 'c']) })
  expect(content.findspots.map(({ x }) => x)).toEqual([1, 3, 5])
  expect(texts(content)).toBe('field.shp has an index (.shx) that does not fit it; it was read without.')
})

test('rows: deleted ones go with their shapes, missing ones leave shapes without attributes', () => {
  const { shp } = shapeFile([point(1, 2), point(3, 4), point(5, 6)])
  const gone = read({ shp, dbf: table(['a', null, 'c']) })
  expect(gone.findspots.map(({ name }) => name)).toEqual(['a', 'c'])
  expect(texts(gone)).toBe('One record is marked as deleted in field.dbf; left out.')
  const short = read({ shp, dbf: table(['a', 'b']) })
  expect(short.findspots.map(({ name }) => name)).toEqual(['a', 'b', null])
  expect(texts(short)).toBe('field.dbf has 2 rows for 3 shapes; they were matched in order.')
  const cut = read({ shp, dbf: table(['a', 'b', 'c']).subarray(0, 80) })
  expect(cut.findspots.map(({ name }) => name)).toEqual(['a', null, null])
  expect(texts(cut)).toBe(
    'field.dbf is cut short: it holds 1 of 3 rows; shapes beyond them have no attributes.',
  )
  const none = read({ shp })
  expect(none.findspots).toHaveLength(3)
  expect(codes(none)).toEqual(['missing-part'])
  const junk = read({ shp, dbf: utf8('no table at all, just text that is long enough') })
  expect([junk.findspots.length, codes(junk)]).toEqual([3, ['broken-file']])
})

test('columns of kinds that are not read, and columns longer than their rows, are told', () => {
  const { shp } = shapeFile([point(1, 2)])
  const memo = table(['a'])
  memo[32 + 11] = 'M'.charCodeAt(0)
  expect(texts(read({ shp, dbf: memo }))).toBe('field.dbf has columns of kinds that are not read: “NAME”.')
  const long = table(['a'])
  long[48] = 200
  expect(texts(read({ shp, dbf: long }))).toBe(
    'field.dbf has columns longer than its rows; “NAME” and those after it were not read.',
  )
})

const named = (name: string, options: { cpg?: string; language?: number }): [string | null, string[]] => {
  const { language = 0, cpg } = options
  const { shp } = shapeFile([point(1, 2)])
  const content = read({ shp, dbf: table([name], { language }), ...(cpg === undefined ? {} : { cpg }) })
  return [content.findspots[0]!.name, codes(content)]
}

test.each<[cpg: string, bytes: string, text: string]>([
  ['UTF-8', 'W\xc3\xb6rth', 'Wörth'],
  ['utf8\r\n', 'W\xc3\xb6rth', 'Wörth'],
  ['65001', 'W\xc3\xb6rth', 'Wörth'],
  ['ISO-8859-1', 'W\xf6rth', 'Wörth'],
  ['88591', 'W\xf6rth', 'Wörth'],
  ['ANSI 1252', 'W\xf6rth', 'Wörth'],
  ['1252', 'W\xf6rth', 'Wörth'],
  ['Windows-1250', '\xb3\xf3d\x9f', 'łódź'],
  ['OEM 850', 'W\x94rth', 'Wörth'],
  ['CP437', 'W\x94rth', 'Wörth'],
  ['LDID/2', 'W\x94rth', 'Wörth'],
  ['936', '\xd6\xd0', '中'],
])('encoding %j of a .cpg', (cpg, bytes, text) => {
  expect(named(bytes, { cpg, language: 1 })).toEqual([text, []])
})

test('the language byte is believed where there is no .cpg; without both a guess is said where it matters', () => {
  expect(named('W\x94rth', { language: 2 })).toEqual(['Wörth', []])
  expect(named('plain', {})).toEqual(['plain', []])
  expect(named('W\xc3\xb6rth', {})).toEqual(['Wörth', ['assumed']])
  expect(named('W\xf6rth', {})).toEqual(['Wörth', ['assumed']])
  expect(named('W\xf6rth', { cpg: 'klingon' })).toEqual(['Wörth', ['assumed', 'assumed']])
})

test('without a .prj, or with one that is not known, degrees are taken for WGS84 and said', () => {
  const { shp } = shapeFile([point(-1.5, 53)])
  const dbf = table(['a'])
  const missing = read({ shp, dbf, prj: null })
  expect(missing.findspots).toMatchObject([{ epsg: 4326, x: -1.5, y: 53 }])
  expect(texts(missing)).toBe(
    'field.prj is not in the archive; positions were taken to be longitude and latitude on WGS84, since all lie in that range.',
  )
  const unknown = read({ shp, dbf, prj: 'LOCAL_CS["dig",UNIT["metre",1]]' })
  expect(texts(unknown)).toContain(
    'field.prj states a system of the kind LOCAL_CS, which is not read; positions were taken',
  )
})

test('metres without a .prj are not guessed at', () => {
  const content = read({ ...shapeFile([point(433_474, 356_016)]), dbf: table(['a']), prj: null })
  expect(content.findspots).toEqual([])
  expect(content.faults).toEqual([
    {
      line: null,
      code: 'unknown-system',
      text: 'field.shp was not read: field.prj is not in the archive, and its figures are no longitude and latitude; put the .prj that belongs to field.shp into the zip.',
    },
  ])
})

const nationalGrid =
  'PROJCS["British_National_Grid",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000.0],PARAMETER["False_Northing",-100000.0],PARAMETER["Central_Meridian",-2.0],PARAMETER["Scale_Factor",0.9996012717],PARAMETER["Latitude_Of_Origin",49.0],UNIT["Meter",1.0]]'

test('the National Grid stays as it is; figures under it that look like degrees are told of', () => {
  const dbf = table(['a'])
  const grid = read({ ...shapeFile([point(433_474.25, 356_016.5)]), dbf, prj: nationalGrid })
  expect(grid.findspots).toMatchObject([{ epsg: 27_700, x: 433_474.25, y: 356_016.5 }])
  expect(grid.faults).toEqual([])
  expect(texts(read({ ...shapeFile([point(-1.5, 53)]), dbf, prj: nationalGrid }))).toContain('check its .prj')
})

test('other systems are converted to WGS84; where that is a Helmert, the note says by how much', () => {
  // EPSG 28992 at the centre of its projection, Amersfoort: 155000, 463000 (Kadaster); WGS84 by EPSG 1672 from PROJ 9.1.1.
  const rd =
    'PROJCS["RD_New",GEOGCS["GCS_Amersfoort",DATUM["D_Amersfoort",SPHEROID["Bessel_1841",6377397.155,299.1528128]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Double_Stereographic"],PARAMETER["False_Easting",155000.0],PARAMETER["False_Northing",463000.0],PARAMETER["Central_Meridian",5.38763888888889],PARAMETER["Scale_Factor",0.9999079],PARAMETER["Latitude_Of_Origin",52.1561605555556],UNIT["Meter",1.0]]'
  const content = read({
    ...shapeFile([point(155_000, 463_000), point(9e9, 0), point(1e8, 1e8)]),
    dbf: table(['a', 'b', 'c']),
    prj: rd,
  })
  expect(content.findspots).toHaveLength(1)
  expect(content.findspots[0]!.epsg).toBe(4326)
  expect(content.findspots[0]!.x).toBeCloseTo(5.387_204, 5)
  expect(content.findspots[0]!.y).toBeCloseTo(52.155_172, 5)
  expect(content.faults.map(({ code, text }) => [code, text.slice(0, 32)])).toEqual([
    ['coordinate-out-of-range', 'Record 2 of field.shp was left o'],
    ['outside-grid', 'Record 3 of field.shp was left o'],
    ['assumed', 'field.shp: RD_New reaches WGS84 '],
  ])
  expect(texts(content)).toContain('about 5 m out')
})

test('nothing in it', () => {
  expect(codes(read({ ...shapeFile([]), dbf: table([]) }))).toEqual(['empty-file'])
  expect(codes(read({ shp: new Uint8Array(50) }))).toEqual(['broken-file'])
})
