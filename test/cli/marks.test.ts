import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeGeoTiff } from '#formats/geotiff'
import { drawnDitches, leg } from '../marks/drawn-lines.ts'
import { drawnPits } from '../marks/drawn-pits.ts'
import { drawnRings } from '../marks/drawn-ring.ts'
import { nationalGridText, worldText } from '../service/pictures.ts'
import { lynchetJson, runLynchet } from './run-lynchet.ts'

interface Reply {
  candidates: {
    x: number
    y: number
    diameter: number
    score: number
    completeness: number
    falseAlarmsPerKm2: number | null
  }[]
  unit: string
  epsg: number | null
  seconds: number
}

let folder = ''
const at = (name: string): string => path.join(folder, name)
const side = 200
const [west, north, cellM] = [558_400, 347_500, 0.5]
// 15 m across, its centre 60 m east of the west edge and 45 m south of the north edge.
const ring = { x: 120, y: 90, radius: 15, width: 3, depth: 40 }
const raster = drawnRings(side, [ring], 8)

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'lynchet-marks-test-'))
  const size = { columns: side, rows: side }
  const placed = { epsg: 27_700, west, north, cellM, ...size }
  writeFileSync(at('ring.tif'), writeGeoTiff({ ...placed, cells: raster.values, noData: Number.NaN }))
  writeFileSync(at('even.tif'), writeGeoTiff({ ...placed, cells: new Float32Array(side * side).fill(3) }))
  const pits = drawnPits(side, [{ x: 120, y: 90, sigma: 3 }], 5)
  writeFileSync(at('pit.tif'), writeGeoTiff({ ...placed, cells: pits.values, noData: Number.NaN }))
  const ditch = drawnDitches(side, [{ off: leg([30, 60], [170, 130]), width: 3 }], 4)
  writeFileSync(at('ditch.tif'), writeGeoTiff({ ...placed, cells: ditch.values, noData: Number.NaN }))
  const none = new Float32Array(side * side).fill(Number.NaN)
  writeFileSync(at('none.tif'), writeGeoTiff({ ...placed, cells: none, noData: Number.NaN }))
  const grey = Uint8Array.from(raster.values, (value) => Math.max(0, Math.min(255, value)))
  const picture = await sharp(grey, { raw: { width: side, height: side, channels: 1 } })
    .png()
    .toBuffer()
  for (const name of ['plain.png', 'placed.png']) writeFileSync(at(name), picture)
  writeFileSync(at('placed.pgw'), worldText(cellM, west, north))
  writeFileSync(at('placed.prj'), nationalGridText)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('a ring in a GeoTIFF is given on the ground, and written as GeoJSON on WGS84', () => {
  const out = at('rings.geojson')
  const found = lynchetJson<Reply>(
    'marks',
    at('ring.tif'),
    '--diameter',
    '12..18',
    '--tone',
    'dark',
    '--max',
    '5',
    '--out',
    out,
  )
  const [best] = found.candidates
  expect(Math.hypot(best!.x - (west + 60), best!.y - (north - 45))).toBeLessThan(0.5)
  expect(Math.abs(best!.diameter - 15)).toBeLessThan(0.5)
  expect(best!.completeness).toBeGreaterThan(0.9)
  expect(found).toMatchObject({ unit: 'metres', epsg: 27_700 })
  const rates = found.candidates.map(({ falseAlarmsPerKm2 }) => falseAlarmsPerKm2!)
  expect(rates).toEqual(rates.toSorted((a, b) => a - b))
  const { features } = JSON.parse(readFileSync(out, 'utf8')) as {
    features: { geometry: { coordinates: number[] } }[]
  }
  expect(features).toHaveLength(found.candidates.length)
  const coords = lynchetJson<{ wgs84: { lat: number; lon: number } }>('coords', `${best!.x} ${best!.y}`)
  expect(features[0]!.geometry.coordinates[0]).toBeCloseTo(coords.wgs84.lon, 6)
  expect(features[0]!.geometry.coordinates[1]).toBeCloseTo(coords.wgs84.lat, 6)
})

test('a picture with world and .prj files beside it is placed by them', () => {
  const found = lynchetJson<Reply>(
    'marks',
    at('placed.png'),
    '--diameter',
    '12..18',
    '--tone',
    'dark',
    '--max',
    '1',
  )
  const [best] = found.candidates
  expect(Math.hypot(best!.x - (west + 60), best!.y - (north - 45))).toBeLessThan(0.5)
  expect(found).toMatchObject({ unit: 'metres', epsg: 27_700 })
})

test('a picture that does not say where it lies is answered in pixels', () => {
  const words = ['marks', at('plain.png'), '--diameter', '24..36', '--tone', 'dark', '--max', '1', '--json']
  const { code, out, err } = runLynchet(...words)
  expect(code).toBe(0)
  expect(err).toContain('plain.png does not say where it lies: diameters were taken as pixels')
  const plain = JSON.parse(out) as Reply
  expect(plain).toMatchObject({ unit: 'pixels', epsg: null, candidates: [{ falseAlarmsPerKm2: null }] })
  expect(Math.hypot(plain.candidates[0]!.x - ring.x, plain.candidates[0]!.y - ring.y)).toBeLessThan(1)
})

test.each([
  [
    'ring.tif',
    '1..20',
    'ring.tif has pixels of 0.5 m, so the smallest ring that it can show is 2 m across, not 1 m.',
  ],
  [
    'plain.png',
    '1..20',
    'plain.png names no size of its pixels: the smallest ring that it can show is 4 pixels across, not 1.',
  ],
  [
    'ring.tif',
    '8..300',
    'ring.tif is 100 m across its shorter side, so no ring of 300 m fits into it; ask for less.',
  ],
  ['ring.tif', '30..8', 'The range of diameters is reversed: 30 to 8; give the smaller one first.'],
  ['even.tif', '8..30', 'even.tif has nothing to look at: no data, or the same value everywhere'],
  ['none.tif', '8..30', 'none.tif has nothing to look at: no data, or the same value everywhere'],
  ['gone.tif', '8..30', 'gone.tif cannot be read: there is no such file'],
])('%s with %s is refused in one sentence', (name, diameter, sentence) => {
  const { code, out, err } = runLynchet('marks', at(name), '--diameter', diameter, '--json')
  expect({ code, out }).toEqual({ code: 1, out: '' })
  expect(err).toContain(sentence)
})

test('wrong words are told', () => {
  const wrong = runLynchet('marks', at('ring.tif'), '--diameter', 'big')
  expect(wrong.code).toBe(2)
  expect(wrong.err).toContain('--diameter takes two numbers with two points between, as 8..40, not "big".')
  expect(runLynchet('marks', at('ring.tif'), '--diameter', '8..30', '--tone', 'grey').code).toBe(2)
})

test('a pit in a GeoTIFF is given on the ground, and an even raster has none', () => {
  const wish = ['--kind', 'pit', '--diameter', '2..6', '--tone', 'dark', '--max', '5'] as const
  const [best] = lynchetJson<Reply>('marks', at('pit.tif'), ...wish).candidates
  expect(Math.hypot(best!.x - (west + 60), best!.y - (north - 45))).toBeLessThan(0.25)
  // 2 sqrt 2 sigma of a Gaussian pit, in pixels of 0.5 m; scales are 26 % apart.
  expect(Math.abs(best!.diameter / (3 * Math.SQRT2) - 1)).toBeLessThan(0.25)
  expect(best).toMatchObject({ kind: 'pit', score: null, completeness: null })
  const { code, err } = runLynchet('marks', at('even.tif'), ...wish)
  expect(code).toBe(1)
  expect(err).toContain('nothing to look at')
})

interface LineReply {
  candidates: {
    kind: string
    x: number
    y: number
    coordinates: [number, number][]
    length: number
    width: number
  }[]
}

test('a ditch in a GeoTIFF is given as a line on the ground, and written as GeoJSON', () => {
  const out = at('lines.geojson')
  const words = ['--kind', 'line', '--width', '1..2', '--length', '20', '--tone', 'dark', '--crs', 'layer']
  const found = lynchetJson<LineReply>('marks', at('ditch.tif'), ...words, '--out', out)
  const [best] = found.candidates
  expect(best).toMatchObject({ kind: 'line', tone: 'dark', pairSpacing: null, mayBe: [] })
  // Pixels of 0.5 m: from 15 m east and 30 m south of the corner to 85 m and 65 m.
  expect(Math.hypot(best!.x - (west + 50), best!.y - (north - 47.5))).toBeLessThan(2)
  expect(Math.abs(best!.length - Math.hypot(70, 35))).toBeLessThan(5)
  expect(Math.abs(best!.width - 1.5)).toBeLessThan(0.6)
  const { features } = JSON.parse(readFileSync(out, 'utf8')) as {
    features: { geometry: { type: string; coordinates: number[][] }; properties: { rank: number } }[]
  }
  expect(features).toHaveLength(found.candidates.length)
  expect(features[0]!.geometry.type).toBe('LineString')
  features[0]!.geometry.coordinates.forEach(([e, n], i) => {
    expect(Math.hypot(e! - best!.coordinates[i]![0], n! - best!.coordinates[i]![1])).toBeLessThan(0.002)
  })
})

// What else is refused, and in which words: src/service/lines-of-file.test.ts.
test.each([
  ['ditch.tif', ['--width', '0.5..2'], 1, 'the narrowest line that it can show is 0.75 m wide, not 0.5 m.'],
  ['even.tif', ['--width', '1..2'], 1, 'even.tif has nothing to look at'],
  ['ditch.tif', [], 2, '--kind line needs --width, as 1..4.'],
  ['ditch.tif', ['--width', '1..2', '--diameter', '8..20'], 2, 'A line has no diameter'],
])('lines in %s with %s end with a sentence', (name, words, code, sentence) => {
  const ended = runLynchet('marks', at(name), '--kind', 'line', ...words)
  expect(ended).toMatchObject({ code, out: '' })
  expect(ended.err).toContain(sentence)
})
