import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  type BearingFrom,
  type LaneChances,
  type LaneFigures,
  type LaneLight,
  laneChancesShape,
} from '#contract'
import { planarGrid } from '#core/geodesy'
import { readCsv } from '#formats/csv'
import { readGeoJson } from '#formats/geojson'
import { readGpx } from '#formats/gpx'
import { readKml } from '#formats/kml'
import { ostn15 } from '#work'
import { gpxBreaches } from '../lanes/gpx-standard.ts'
import { ploughed, ploughedGrid } from '../lanes/ploughed-ground.ts'
import { nationalGridText } from '../service/pictures.ts'
import { jsonHere, lynchetHere } from './lynchet-here.ts'
import { lynchetJson } from './run-lynchet.ts'

type Reply = LaneFigures & { seconds: number; light: LaneLight | null; bearingFrom: BearingFrom }

let folder = ''
const at = (name: string): string => path.join(folder, name)
const put = (name: string, text: string): string => {
  writeFileSync(at(name), text)
  return at(name)
}
const table = (...corners: [number, number][]): string =>
  `easting,northing\n${[...corners, corners[0]!].map((corner) => corner.join(',')).join('\n')}\n`

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'lynchet-lanes-'))
  put('field.csv', table([558_000, 347_000], [558_100, 347_000], [558_100, 347_040], [558_000, 347_040]))
})
afterAll(() => rmSync(folder, { recursive: true }))

test('the lanes of a rectangle are those one would draw', () => {
  const reply = lynchetJson<Reply>('lanes', at('field.csv'), '--spacing', '2')
  expect(reply).toMatchObject({
    lanes: 20,
    turns: 19,
    bearing: 90,
    notes: [],
    light: null,
    pattern: 'parallel',
  })
  expect(reply.lengthM).toBeCloseTo(2000, 6)
  expect(reply.betweenM).toBeCloseTo(38, 6)
  expect(reply.areaM2).toBeCloseTo(4000, 6)
  expect(reply.seconds).toBeGreaterThan(0)
  // 2000 m at 0.5 m/s, 38 m at 1.2 m/s, 19 turns of 5 s: 4126.7 s, one rest of ten minutes.
  expect(reply.hours).toBeCloseTo((4000 + 38 / 1.2 + 95 + 600) / 3600, 9)
  const across = lynchetJson<Reply>('lanes', at('field.csv'), '--spacing', '2', '--bearing', '0')
  expect(across).toMatchObject({ lanes: 50, turns: 49, bearing: 0 })
})

test('walkers share the lanes evenly, and a day tells its light', async () => {
  const words = ['--spacing', '2', '--walkers', '3', '--day', '2026-11-25']
  const reply = await jsonHere<Reply>('lanes', at('field.csv'), ...words)
  expect(reply.walkers.map(({ lanes }) => lanes)).toEqual([7, 6, 7])
  expect(reply.turns).toBe(17)
  expect(reply.light).toMatchObject({ day: '2026-11-25', fits: true })
  expect(reply.light!.sun.rise).toMatch(/^2026-11-25T07:\d\d:\d\d\.000Z$/)
  expect((await lynchetHere('lanes', at('field.csv'), ...words)).out).toMatch(/fit into the 9 h \d\d min/)
})

describe('files', () => {
  const names = (list: readonly { name: string | null }[]): (string | null)[] => list.map(({ name }) => name)

  test('GPX holds each lane as rte and the walk as trk, and comes back as planned, not as walked', async () => {
    const out = at('lanes.gpx')
    await jsonHere(
      'lanes',
      at('field.csv'),
      '--spacing',
      '4',
      '--walkers',
      '2',
      '--name-length',
      '4',
      '--out',
      out,
    )
    const text = readFileSync(out, 'utf8')
    expect(gpxBreaches(text)).toEqual([])
    expect(text.match(/<rte>/g)).toHaveLength(10)
    expect(text.match(/<trk>/g)).toHaveLength(2)
    const { tracks, faults } = readGpx(readFileSync(out), { fileName: 'lanes.gpx' })
    expect(faults.filter(({ code }) => code !== 'no-times')).toEqual([])
    expect(tracks.map(({ walked }) => walked)).toEqual(new Array(12).fill(false))
    expect(names(tracks).slice(0, 6)).toEqual(['A01', 'A02', 'A03', 'A04', 'A05', 'B01'])
    expect(names(tracks).slice(10)).toEqual(['Walk', 'Wal2'])
    expect(tracks[10]!.xy.length / 2).toBe(10)
  })

  test('long lanes are straight in the grid, not on the globe: places are added', async () => {
    const wide = put(
      'wide.csv',
      table([540_000, 347_000], [543_000, 347_000], [543_000, 347_008], [540_000, 347_008]),
    )
    const out = at('wide.gpx')
    await jsonHere('lanes', wide, '--spacing', '4', '--bearing', '90', '--out', out)
    const lanes = readGpx(readFileSync(out), { fileName: 'wide.gpx' }).tracks.slice(0, 2)
    expect(lanes.map(({ xy }) => xy.length / 2)).toEqual([7, 7])
    const grid = new Float64Array(14)
    planarGrid(27_700, ostn15()).forward(lanes[0]!.xy, grid)
    for (let i = 1; i < 14; i += 2) expect(grid[i]).toBeCloseTo(347_002, 2)
  })

  test('KML, GeoJSON and CSV hold each lane as a line', async () => {
    const write = async (ending: string): Promise<Uint8Array> => {
      await jsonHere('lanes', at('field.csv'), '--spacing', '4', '--out', at(`lanes.${ending}`))
      return readFileSync(at(`lanes.${ending}`))
    }
    const read = [
      readKml(await write('kml'), { fileName: 'x' }),
      readGeoJson(await write('geojson'), { fileName: 'x' }),
      readCsv(await write('csv'), { fileName: 'x' }),
    ]
    for (const { tracks } of read) {
      expect(tracks).toHaveLength(10)
      expect(tracks.every(({ walked }) => !walked)).toBe(true)
      expect(names(tracks).slice(0, 2)).toEqual(['Lane 01', 'Lane 02'])
    }
    expect(readFileSync(at('lanes.csv'), 'utf8')).toContain('easting,northing,epsg')
  })

  // Runs wherever GDAL's programs are (Debian: gdal-bin). Made against GDAL 3.6.2.
  const lister = 'ogrinfo'
  const gdal = spawnSync(lister, ['--version']).status === 0
  test.skipIf(!gdal)('GDAL reads the GPX back', async () => {
    const out = at('gdal.gpx')
    await jsonHere('lanes', at('field.csv'), '--spacing', '4', '--out', out)
    const { stdout, stderr, status } = spawnSync(lister, ['-so', '-al', out], { encoding: 'utf8' })
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' })
    const counts = [...stdout.matchAll(/Layer name: (\w+)[\s\S]*?Feature Count: (\d+)/g)].map(
      ([, name, n]) => [name, n],
    )
    expect(Object.fromEntries(counts)).toEqual({
      waypoints: '0',
      routes: '10',
      tracks: '1',
      route_points: '20',
      track_points: '20',
    })
  })
})

test('lanes take the bearing of a drawn line', async () => {
  const line = {
    type: 'LineString',
    coordinates: [
      [0.36, 52.99],
      [0.361, 52.991],
      [0.3619, 52.9921],
    ],
  }
  const along = put('along.geojson', JSON.stringify(line))
  const reply = await jsonHere<Reply>('lanes', at('field.csv'), '--spacing', '2', '--along', along)
  // By the ground: 127.1 m east and 233.6 m north, 28.6 degrees from true north; grid north is 1.9 degrees west of it there.
  expect(reply.bearing).toBeGreaterThan(24)
  expect(reply.bearing).toBeLessThan(29)
})

test('a swath, a scatter and a sweep tell the chances', async () => {
  const words = [
    'lanes',
    at('field.csv'),
    '--spacing',
    '20',
    '--swath',
    '1.5',
    '--scatter',
    '5',
    '--coil',
    '0.25',
    '--rate',
    '1',
  ]
  const { chances } = JSON.parse((await lynchetHere(...words, '--json')).out) as { chances: LaneChances }
  expect(laneChancesShape.parse(chances)).toEqual(chances)
  // (5 + 1.5) / 20; 1.5 / 20; D / a = 0.25 / 0.5: 0.5 - 0.5^2 / 4.
  expect(chances).toMatchObject({
    scatterCrossed: 0.325,
    sweptShare: 0.075,
    sensedOfSwath: 0.4375,
    fastestMiddleMs: 0.25,
  })
  expect(chances.objectSensed).toBeCloseTo(0.075 * 0.4375, 12)
  expect((await lynchetHere(...words)).out).toContain('Scatter          crossed with a chance of 32.5 %')
  const bare = await lynchetHere('lanes', at('field.csv'), '--spacing', '20', '--swath', '1.5', '--json')
  expect(JSON.parse(bare.out).chances).toMatchObject({
    scatterCrossed: null,
    objectSensed: null,
    sweep: null,
  })
})

test('a spiral goes outward from where it is told to', async () => {
  const words = ['--spacing', '2', '--pattern', 'spiral', '--from', '558050,347020', '--radius', '15']
  const reply = await jsonHere<Reply>('lanes', at('field.csv'), ...words)
  expect(reply).toMatchObject({ lanes: 1, turns: 0, bearing: null, betweenM: 0 })
  // Area over spacing: pi 15^2 / 2.
  expect(reply.lengthM).toBeGreaterThan(345)
  expect(reply.lengthM).toBeLessThan(362)
})

describe('what cannot be done is said in a sentence', () => {
  const zone = [
    [5.999, 52],
    [6.001, 52],
    [6.001, 52.001],
    [5.999, 52.001],
    [5.999, 52],
  ]
  test('an area over the edge of a UTM zone is worked in one of them', async () => {
    const file = put('zones.geojson', JSON.stringify({ type: 'Polygon', coordinates: [zone] }))
    const reply = await jsonHere<Reply>('lanes', file, '--spacing', '2')
    expect(reply.notes.join()).toMatch(
      /more than one UTM zone \(31, 32\); all of it was worked in WGS 84 \/ UTM zone 31N/,
    )
  })

  test.each([
    ['spacing 0', ['--spacing', '0'], '--spacing takes a number above zero, not "0".'],
    ['no spacing', [], '--spacing'],
    [
      'bearing NaN',
      ['--spacing', '2', '--bearing', 'NaN'],
      '--bearing takes degrees from grid north, not "NaN".',
    ],
    [
      'half a walker',
      ['--spacing', '2', '--walkers', '1.5'],
      '--walkers takes a whole number from 1 to 1000',
    ],
    [
      'a pattern that is none',
      ['--spacing', '2', '--pattern', 'star'],
      '--pattern takes parallel, spiral, transects',
    ],
    ['a place that is none', ['--spacing', '2', '--from', '5'], '--from takes EASTING,NORTHING'],
    [
      'bearing twice',
      ['--spacing', '2', '--bearing', '4', '--along', 'x'],
      'one of --bearing, --along, --plough and --contour',
    ],
    [
      'a spiral with a bearing',
      ['--spacing', '2', '--bearing', '4', '--pattern', 'spiral'],
      'A spiral has no bearing',
    ],
    [
      'a scatter without a swath',
      ['--spacing', '2', '--scatter', '9'],
      '--scatter, --coil and --rate need --swath',
    ],
    [
      'a coil without a rate',
      ['--spacing', '2', '--swath', '2', '--coil', '9'],
      '--coil and --rate go together',
    ],
    ['a file of no known kind', ['--spacing', '2', '--out', 'x.txt'], '--out takes a name ending in'],
  ])('%s: exit 2', async (_, words, sentence) => {
    const { code, out, err } = await lynchetHere('lanes', at('field.csv'), ...words)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(sentence)
  })

  test.each([
    ['a day that is none', ['--day', '2026-02-30'], '"2026-02-30" is not a day'],
    [
      'a spiral that misses',
      ['--pattern', 'spiral', '--from', '0,0', '--radius', '9'],
      'does not meet the search area',
    ],
    [
      'a folder that is not there',
      ['--out', path.join('no', 'such', 'folder', 'x.gpx')],
      'its folder does not exist',
    ],
  ])('%s: exit 1', async (_, words, sentence) => {
    const { code, out, err } = await lynchetHere('lanes', at('field.csv'), '--spacing', '2', ...words)
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(err).toContain(sentence)
  })
})

describe('a bearing read from a raster', () => {
  const close = (): string =>
    put('close.csv', table([558_020, 347_020], [558_200, 347_020], [558_200, 347_140], [558_020, 347_140]))
  beforeAll(() => {
    put('ground.asc', ploughedGrid())
    put('ground.prj', nationalGridText)
    put('level.asc', ploughedGrid(true))
    put('level.prj', nationalGridText)
    put('nowhere.asc', ploughedGrid())
  })

  const reply = async (...words: string[]): Promise<Reply> =>
    JSON.parse((await lynchetHere('lanes', close(), '--spacing', '5', '--json', ...words)).out) as Reply

  test('follows its plough lines or its contour, and how it was come by is told', async () => {
    const plough = await reply('--plough', at('ground.asc'))
    expect(Math.abs(plough.bearing! - ploughed.plough)).toBeLessThan(1)
    expect(plough.bearingFrom).toMatchObject({ by: 'plough', layer: 'ground.asc' })
    expect(plough.notes[0]).toBe(
      'Plough lines of ground.asc: 60°; 16 of 16 parts of the ground agree within 10°.',
    )
    const contour = await reply('--contour', at('ground.asc'))
    // Ridges of 3 cm in cells of 5 m are left: they turn the mean contour by less than this.
    expect(Math.abs(contour.bearing! - ploughed.contour)).toBeLessThan(2)
    expect(contour.bearingFrom.by).toBe('contour')
    expect(contour.notes[0]).toMatch(/^Contour of ground\.asc: 1[01]\d°, .* mean slope 2\.9°\.$/)
  })

  test('or says why there is none', async () => {
    const asked = (...words: string[]) => lynchetHere('lanes', close(), '--spacing', '5', ...words)
    expect(await asked('--contour', at('level.asc'))).toMatchObject({
      code: 1,
      err: expect.stringContaining('as good as level'),
    })
    expect(await asked('--plough', at('level.asc'))).toMatchObject({
      code: 1,
      err: expect.stringContaining('shows nothing, or the same everywhere'),
    })
    expect((await asked('--plough', at('nowhere.asc'))).err).toContain('does not say where it lies')
    expect((await asked('--plough', at('no-such.tif'))).err).toContain('cannot be read')
    expect(await asked('--plough', at('ground.asc'), '--bearing', '3')).toMatchObject({ code: 2 })
    const small = put('small.csv', table([558_020, 347_020], [558_024, 347_020], [558_024, 347_024]))
    const tiny = await lynchetHere('lanes', small, '--spacing', '1', '--contour', at('ground.asc'))
    expect(tiny).toMatchObject({ code: 1, err: expect.stringContaining('too few cells of 5 m') })
    const elsewhere = put('elsewhere.csv', table([559_000, 347_020], [559_100, 347_020], [559_100, 347_100]))
    const off = await lynchetHere('lanes', elsewhere, '--spacing', '1', '--plough', at('ground.asc'))
    expect(off.err).toContain('shows nothing')
  })
})

test('what is for packs and walks alone is refused elsewhere', async () => {
  const asked = (...words: string[]) => lynchetHere(...words, '--out', at('none'))
  expect(await asked('export', 'a.gpkg', 'lanes', '--as', 'gpx', '--layers', '1')).toMatchObject({
    code: 2,
    err: expect.stringContaining('are for a pack'),
  })
  expect((await asked('export', 'a.gpkg', 'pack', '--layers', '1,x')).code).toBe(2)
  expect((await asked('report', 'a.gpkg', '--for', 'landowner', '--plan', '1')).code).toBe(2)
})
