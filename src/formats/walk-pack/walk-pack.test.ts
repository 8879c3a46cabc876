import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { readWalkPack } from './read-walk-pack.ts'
import type { WalkPack } from './walk-pack.ts'
import { writeWalkPack } from './write-walk-pack.ts'

const ring = Float64Array.of(0.35, 53, 0.354, 53, 0.354, 53.002, 0.35, 53.002, 0.35, 53)
const lane = (name: string) => ({
  epsg: 4326,
  name,
  walked: false,
  xy: Float64Array.of(0.35, 53.001, 0.354, 53.001),
  segmentStart: Uint32Array.of(0),
  time: null,
  elevation: null,
  hdop: null,
  extras: [],
  attributes: { lane: name },
})
const spot = (name: string) => ({
  epsg: 4326,
  name,
  x: 0.352,
  y: 53.001,
  accuracyM: null,
  elevation: null,
  time: null,
  note: null,
  find: null,
  attributes: {},
})
const pack: WalkPack = {
  manifest: {
    format: 'lynchet-walk-pack',
    version: 1,
    survey: { uuid: 'u', code: 'NST', title: 'Ninestile' },
    plan: 'Tuesday',
    area: 'Long Ground',
    madeAt: '2026-11-25T18:00:00.000Z',
    spacingM: 2,
    lengthM: 266,
    walkers: 1,
  },
  area: [{ epsg: 4326, name: 'Long Ground', polygons: [{ rings: [ring] }], attributes: {} }],
  lanes: [lane('1'), lane('2')],
  targets: [spot('Mound')],
  constraints: { areas: [], tracks: [], findspots: [spot('Barrow')] },
  cautions: ['Lane 1 touches the barrow.'],
  pictures: [],
}
const picture = {
  file: 'pictures/1.jpg',
  name: 'From the air',
  takenOn: '2024-06-20',
  attribution: null,
  mediaType: 'image/jpeg',
  columns: 3,
  rows: 2,
  epsg: 27_700,
  west: 558_000,
  north: 347_100,
  pixelWidthM: 0.5,
  pixelHeightM: 0.25,
  corners: [
    [0.35, 53.002],
    [0.354, 53.002],
    [0.354, 53],
    [0.35, 53],
  ],
  bytes: Uint8Array.of(255, 216, 255, 217),
} as const

test('a pack comes back as it was written, and equal packs have equal bytes', () => {
  const bytes = writeWalkPack(pack)
  const read = readWalkPack(bytes, 'tuesday.zip')
  expect([read.manifest, read.cautions]).toEqual([pack.manifest, pack.cautions])
  expect(read.area[0]?.polygons).toEqual(pack.area[0]?.polygons)
  expect(read.lanes.map(({ name, xy, walked }) => [name, xy, walked])).toEqual(
    pack.lanes.map(({ name, xy, walked }) => [name, xy, walked]),
  )
  expect(read.targets[0]).toMatchObject({ name: 'Mound', x: 0.352, y: 53.001 })
  expect(read.constraints.findspots[0]?.name).toBe('Barrow')
  expect(writeWalkPack(pack)).toEqual(bytes)
})

test.each([
  ['pack.json', 'unknown-kind'],
  ['lanes.geojson', 'missing-part'],
  ['cautions.json', 'missing-part'],
])('without %s it is refused', (name, code) => {
  const { [name]: _gone, ...files } = unzipSync(writeWalkPack(pack))
  expect(() => readWalkPack(zipSync(files), 'a.zip')).toThrow(expect.objectContaining({ code }))
})

test('another kind, a later version and damage are refused', () => {
  const files = unzipSync(writeWalkPack(pack))
  const read = (change: Record<string, Uint8Array>) => () =>
    readWalkPack(zipSync({ ...files, ...change }), 'a.zip')
  const later = strToU8(JSON.stringify({ ...pack.manifest, version: 2 }))
  expect(read({ 'pack.json': later })).toThrow(expect.objectContaining({ code: 'unknown-kind' }))
  expect(read({ 'cautions.json': strToU8('[') })).toThrow(expect.objectContaining({ code: 'broken-file' }))
  expect(() => readWalkPack(strToU8('no zip'), 'a.zip')).toThrow(
    expect.objectContaining({ code: 'broken-file' }),
  )
})

test('pictures go out with their places and a world file each, and come back', () => {
  const bytes = writeWalkPack({ ...pack, pictures: [picture] })
  expect(readWalkPack(bytes, 'a.zip').pictures).toEqual([picture])
  // Esri's world file: pixel width, two rotations, minus the pixel height, middle of the upper left pixel.
  const world = strFromU8(unzipSync(bytes)['pictures/1.jgw']!)
  expect(world.trim().split('\n').map(Number)).toEqual([0.5, 0, 0, -0.25, 558_000.25, 347_099.875])
  expect(JSON.parse(strFromU8(unzipSync(writeWalkPack(pack))['pack.json']!))).not.toHaveProperty('pictures')
})

test('a picture that is not understood, or is not there, is left out', () => {
  const files = unzipSync(writeWalkPack({ ...pack, pictures: [picture] }))
  const { 'pictures/1.jpg': _gone, ...without } = files
  expect(readWalkPack(zipSync(without), 'a.zip').pictures).toEqual([])
  const { bytes: _bytes, ...facts } = picture
  const odd = [{ ...facts, corners: [[0, 0]] }, { ...facts, mediaType: 'text/html' }, null, 3]
  const changed = strToU8(JSON.stringify({ ...pack.manifest, pictures: odd }))
  expect(readWalkPack(zipSync({ ...files, 'pack.json': changed }), 'a.zip').pictures).toEqual([])
})
