import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { CoverFigures, ImportReply } from '#contract'
import { jsonHere, lynchetHere } from './lynchet-here.ts'
import { lynchetJson, runLynchet } from './run-lynchet.ts'

let folder = ''
const at = (name: string): string => path.join(folder, name)
const put = (name: string, text: string | Uint8Array): string => {
  writeFileSync(at(name), text)
  return at(name)
}

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'lynchet-cli-'))
  // A straight walk of 100 m northwards at 0.5 m/s, and a 20 m wide field around it, both plain eastings and northings.
  const fixes = Array.from({ length: 101 }, (_, i) => {
    const time = new Date(Date.UTC(2026, 8, 12, 9, 0, 2 * i)).toISOString()
    return `558010,${347_000 + i},${time}`
  })
  put('walk.csv', ['easting,northing,time', ...fixes, ''].join('\n'))
  put(
    'field.csv',
    'easting,northing\n558000,347000\n558020,347000\n558020,347100\n558000,347100\n558000,347000\n',
  )
  put(
    'finds.csv',
    'grid reference,object,material,number\nTF 58010 47020,buckle,copper alloy,1\nTF 58011 47050,musket ball,lead,2\nnowhere,thimble,,3\n',
  )
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('cover', () => {
  test('a straight lane 2 m wide in a field of 20 m covers a tenth of it, with a gap on either side', () => {
    const cover = lynchetJson<CoverFigures>(
      'cover',
      at('walk.csv'),
      '--area',
      at('field.csv'),
      '--width',
      '2',
    )
    expect(cover.areaM2).toBeCloseTo(2000, 6)
    expect(cover.coveredShare).toBeCloseTo(0.1, 3)
    expect(cover.gaps).toMatchObject({ count: 2 })
    expect(cover.gaps.largestM2).toBeCloseTo(900, -1)
    expect(cover.distanceM).toBeCloseTo(100, 6)
    expect(cover.walkingS).toBe(200)
    expect(cover.passes).toMatchObject({ max: 1 })
    expect(cover.expectedShare).toBeNull()
  })

  test('an error gives chances, shares, what was walked too fast, and a spread that its seed repeats', async () => {
    const words = [
      'cover',
      at('walk.csv'),
      '--area',
      at('field.csv'),
      '--width',
      '2',
      '--error',
      '1',
      '--coil',
      '0.25',
      '--rate',
      '1',
    ]
    const chances = at('chances.tif')
    const gaps = at('unsure.geojson')
    const more = [
      '--simulations',
      '40',
      '--seed',
      '3',
      '--chances',
      chances,
      '--gap-chance',
      '0.4',
      '--gaps',
      gaps,
    ]
    const cover = await jsonHere<CoverFigures>(...words, ...more)
    // At 0.5 m/s a coil of 0.25 m at one sweep a second senses 7/16 of its arc: r - r^2 / 4 with r = 1/2.
    expect(cover.expectedShare! / ((0.1 * 7) / 16)).toBeCloseTo(1, 1)
    expect(cover).toMatchObject({ share50: 0, share80: 0, share95: 0 })
    expect(cover.tooFastM! / 100).toBeCloseTo(1, 1)
    expect(cover.spread).toMatchObject({ simulations: 40, seed: 3 })
    expect(cover.spread!.low).toBeLessThanOrEqual(cover.spread!.high)
    expect((await jsonHere<CoverFigures>(...words, '--simulations', '40', '--seed', '3')).spread).toEqual(
      cover.spread,
    )
    expect(readFileSync(chances).subarray(0, 3).toString('latin1')).toBe('II*')
    // No spot reaches 0.4, for over the line it is 0.68 of less than a half: all the field is one gap.
    expect(JSON.parse(readFileSync(gaps, 'utf8')).features).toHaveLength(1)
  })

  test('planned lanes of a file are told as walked or skipped; a tolerance without lanes is refused', async () => {
    const plan = at('plan.geojson')
    await jsonHere('lanes', at('field.csv'), '--spacing', '4', '--bearing', '0', '--out', plan)
    const words = ['cover', at('walk.csv'), '--area', at('field.csv'), '--width', '2']
    const { lanes } = await jsonHere<{ lanes: Record<string, unknown> }>(
      ...words,
      '--lanes',
      plan,
      '--tolerance',
      '1',
    )
    expect(lanes).toMatchObject({ walked: 1, part: 0, skipped: 4, toleranceM: 1 })
    expect(lanes.missed).toHaveLength(4)
    expect((await lynchetHere(...words, '--tolerance', '1')).code).toBe(2)
  })

  test('cleaning keeps a plain walk and leaves out a spike; a drive is offered, and cut when asked', async () => {
    const lines = readFileSync(at('walk.csv'), 'utf8').trim().split('\n')
    const spiked = lines.map((line, i) => (i === 50 ? line.replace('558010', '558090') : line))
    const home = Array.from({ length: 60 }, (_, i) => {
      const time = new Date(Date.UTC(2026, 8, 12, 9, 3, 21 + i)).toISOString()
      return `${558_010 + 9 * i},347100,${time}`
    })
    const file = put('odd.csv', [...spiked, ...home, ''].join('\n'))
    const words = ['cover', file, '--area', at('field.csv'), '--width', '2', '--error', '0.3']
    const cleaned = await jsonHere<CoverFigures>(...words, '--clean', '--cut-drives')
    expect(cleaned.distanceM).toBeGreaterThan(90)
    expect(cleaned.distanceM).toBeLessThan(125)
    expect(cleaned.notes.join(' ')).toContain(
      '1 fix lies farther off than a walker can get and was left out.',
    )
    const asRecorded = await jsonHere<CoverFigures>(...words, '--coil', '0.25', '--rate', '1')
    expect(asRecorded.distanceM).toBeGreaterThan(500)
    expect(asRecorded.notes.join(' ')).toContain('A part looks driven, not walked')
  })

  test('writes gaps and passes to files', async () => {
    const [gaps, passes] = [at('gaps.geojson'), at('passes.tif')]
    await jsonHere(
      'cover',
      at('walk.csv'),
      '--area',
      at('field.csv'),
      '--width',
      '2',
      '--gaps',
      gaps,
      '--out',
      passes,
    )
    expect(JSON.parse(readFileSync(gaps, 'utf8')).features).toHaveLength(2)
    expect(readFileSync(passes).subarray(0, 3).toString('latin1')).toBe('II*')
  })

  test.each([
    ['width 0', ['--width', '0'], '--width takes a number above zero, not "0".'],
    ['width in words', ['--width', 'wide'], '--width takes a number above zero'],
    ['no width', [], '--width'],
    [
      'coil without rate',
      ['--width', '2', '--error', '2', '--coil', '0.25'],
      '--coil and --rate go together',
    ],
    ['simulations without an error', ['--width', '2', '--simulations', '9'], '--simulations needs --error'],
    ['chances without an error', ['--width', '2', '--chances', 'c.tif'], '--chances needs --error'],
    [
      'a chance above 1',
      ['--width', '2', '--error', '1', '--own-chance', '1.5'],
      'above 0, up to 1, not "1.5"',
    ],
  ])('%s is wrong usage: exit 2', async (_, words, sentence) => {
    const { code, out, err } = await lynchetHere('cover', at('walk.csv'), '--area', at('field.csv'), ...words)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(sentence)
  })

  test('ten thousand hectares at 0.1 m say why not and offer a coarser cell', async () => {
    const wide = put(
      'wide.csv',
      'easting,northing\n550000,340000\n560000,340000\n560000,350000\n550000,350000\n550000,340000\n',
    )
    const { code, err } = await lynchetHere(
      'cover',
      at('walk.csv'),
      '--area',
      wide,
      '--width',
      '2',
      '--cell',
      '0.1',
    )
    expect(code).toBe(1)
    expect(err).toMatch(/Use cells of 0\.5 m or more, or a smaller area/)
  })

  test('an area elsewhere is covered by nothing, and that is said', async () => {
    const far = put(
      'far.csv',
      'easting,northing\n559000,347000\n559020,347000\n559020,347100\n559000,347100\n559000,347000\n',
    )
    const cover = await jsonHere<CoverFigures>('cover', at('walk.csv'), '--area', far, '--width', '2')
    expect(cover.coveredShare).toBe(0)
    expect(cover.notes.join(' ')).toContain('does not touch the search area')
  })
})

describe('a survey from its files to its exports', () => {
  const survey = (): string => at('nst.gpkg')

  test('import counts terrain models and says what it made of tiles', async () => {
    const grid = (west: number): string =>
      `ncols 3\nnrows 2\nxllcorner ${west}\nyllcorner 347000\ncellsize 1\n1 2 3\n4 5 6\n`
    const tiles = [put('west.asc', grid(558_000)), put('east.asc', `${grid(558_003)}`.replace('6', '7'))]
    const { files } = await jsonHere<ImportReply>('import', at('terrain.gpkg'), ...tiles, '--epsg', '27700')
    expect(files).toMatchObject([
      { kind: 'ascii-grid', added: { layers: 1 }, bounds: [558_000, 347_000, 558_003, 347_002] },
      { kind: 'ascii-grid', added: { layers: 0 }, bounds: [558_000, 347_000, 558_006, 347_002] },
    ])
    const { out } = await lynchetHere('import', at('terrain.gpkg'), tiles[0]!)
    expect(out).toContain('already in the survey')
  })

  test('import makes the survey, keeps what is good and lists the rest by line', () => {
    const reply = lynchetJson<ImportReply>('import', survey(), at('walk.csv'), at('finds.csv'))
    expect(reply.files.map(({ name, kind }) => [name, kind])).toEqual([
      ['walk.csv', 'csv'],
      ['finds.csv', 'csv'],
    ])
    expect(reply.files[0]!.added).toMatchObject({ tracks: 1, fixes: 101 })
    expect(reply.files[1]!.added).toMatchObject({ findspots: 2, finds: 2 })
    expect(reply.files[1]!.faults).toContainEqual(expect.objectContaining({ line: 4 }))
  })

  test('the same file again changes nothing and says so', async () => {
    const [file] = (await jsonHere<ImportReply>('import', survey(), at('walk.csv'))).files
    expect(file).toMatchObject({ alreadyThere: true, added: { tracks: 0, fixes: 0 } })
  })

  test.each(['gpx', 'kml', 'geojson', 'csv'])(
    'findspots go out as %s and come in again at the same place',
    async (format) => {
      const out = at(`again.${format}`)
      expect(await jsonHere('export', survey(), 'findspots', '--as', format, '--out', out)).toEqual({
        written: out,
        features: 2,
      })
      const other = at(`again-${format}.gpkg`)
      const [file] = (await jsonHere<ImportReply>('import', other, out)).files
      expect(file!.added.findspots).toBe(2)
      const back = at(`back-${format}.geojson`)
      await jsonHere('export', other, 'findspots', '--as', 'geojson', '--out', back)
      const [lon, lat] = JSON.parse(readFileSync(back, 'utf8')).features[0].geometry.coordinates
      const place = await jsonHere<{ grid: { easting: number; northing: number } }>(
        'coords',
        `${lat}, ${lon}`,
      )
      expect(place.grid.easting).toBeCloseTo(558_010.5, 1)
      expect(place.grid.northing).toBeCloseTo(347_020.5, 1)
    },
  )

  test.each(['csv', 'xlsx'])(
    'the catalogue goes out as %s, changes nothing when it comes back, and is taken whole elsewhere',
    async (format) => {
      const out = at(`catalogue.${format}`)
      expect(await jsonHere('export', survey(), 'finds', '--as', format, '--out', out)).toEqual({
        written: out,
        features: 2,
      })
      const [back] = (await jsonHere<ImportReply>('import', survey(), out)).files
      expect(back).toMatchObject({ kind: 'finds-table', alreadyThere: true, added: { finds: 0 }, faults: [] })
      const [elsewhere] = (await jsonHere<ImportReply>('import', at(`catalogue-${format}.gpkg`), out)).files
      expect(elsewhere!.added).toMatchObject({ finds: 2, findspots: 2 })
    },
  )

  test('a public copy of the finds is no finer than a square kilometre, and other things have none', async () => {
    const out = at('public.geojson')
    await jsonHere('export', survey(), 'finds', '--as', 'geojson', '--public', '--out', out)
    expect(readFileSync(out, 'utf8')).toContain('TF 58 47')
    expect(readFileSync(out, 'utf8')).not.toContain('TF 58010')
    expect(
      (await lynchetHere('export', survey(), 'tracks', '--as', 'gpx', '--public', '--out', out)).code,
    ).toBe(2)
    expect((await lynchetHere('export', survey(), 'tracks', '--as', 'xlsx', '--out', out)).code).toBe(2)
  })

  test('labels are written for the finds, and blank ones give numbers out', async () => {
    const out = at('labels.pdf')
    expect(await jsonHere('labels', survey(), '--out', out)).toMatchObject({
      written: out,
      pages: 1,
      labels: 2,
    })
    expect(readFileSync(out).subarray(0, 5).toString()).toBe('%PDF-')
    const blank = await jsonHere<{ numbers: string[] }>('labels', survey(), '--blank', '30', '--out', out)
    expect(new Set(blank.numbers).size).toBe(30)
    const more = await jsonHere<{ numbers: string[]; pages: number }>(
      'labels',
      survey(),
      '--blank',
      '2',
      '--out',
      out,
    )
    expect(more.numbers.filter((number) => blank.numbers.includes(number))).toEqual([])
    expect((await lynchetHere('labels', survey(), '--sheet', 'a5', '--out', out)).code).toBe(1)
    expect((await lynchetHere('labels', survey(), '--blank', 'many', '--out', out)).code).toBe(2)
  })

  test('check finds it sound', async () => {
    expect(await jsonHere('check', survey())).toEqual({ ok: true, problems: [] })
  })
})

describe('faults of the world: exit 1 and one sentence', () => {
  test.each([
    ['an empty file', 'empty.gpx', '', 'empty'],
    ['binary junk', 'junk.gpx', new Uint8Array([0, 1, 2, 255, 254, 0, 9, 8, 7]), 'cannot be read'],
    [
      'an entity bomb',
      'bomb.gpx',
      '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><gpx><wpt lat="1" lon="1"><name>&b;</name></wpt></gpx>',
      'bomb.gpx',
    ],
  ])('import of %s', async (_, name, bytes, sentence) => {
    const { code, err } = await lynchetHere('import', at('bad.gpkg'), put(name, bytes))
    expect(code).toBe(1)
    expect(err).toContain(sentence)
  })

  test('check of what is no survey', async () => {
    const { code, err } = await lynchetHere('check', put('no.gpkg', 'hello, this is no database at all'))
    expect(code).toBe(1)
    expect(err).toContain('no.gpkg')
  })

  test('a missing file', () => {
    const { code, err } = runLynchet('import', at('bad.gpkg'), at('missing.gpx'))
    expect(code).toBe(1)
    expect(err).toContain('missing.gpx')
  })

  test('an unknown command and an unknown option are wrong usage', () => {
    expect(runLynchet('dig').code).toBe(2)
    expect(runLynchet('check', '--deep', at('nst.gpkg')).code).toBe(2)
  })
})

describe('coords', () => {
  test('Caister water tower by its grid reference (A guide to coordinate systems in Great Britain)', async () => {
    const place = await jsonHere<{ grid: Record<string, unknown>; gridRef: string }>(
      'coords',
      'TG 51409 13177',
    )
    expect(place.grid).toMatchObject({ easting: 651_409, northing: 313_177, method: 'OSTN15' })
    expect(place.gridRef).toBe('TG 51409 13177')
  })

  test('a southern latitude is no option', async () => {
    expect(await jsonHere('coords', '-33.9', '18.4')).toMatchObject({ wgs84: { lat: -33.9, lon: 18.4 } })
  })

  test('a table of places, with a bad row told by line', () => {
    const file = put('places.csv', 'lat,lon\n52.9,0.3\nnorth,0.3\n')
    const { code, out, err } = runLynchet('coords', '--batch', file)
    expect(code).toBe(0)
    const [head, row] = out.trim().split('\n')
    expect(head).toBe('lat,lon,easting,northing,gridRef,method')
    expect(row).toMatch(/^52\.9,0\.3,\d{6}\.\d{3},\d{6}\.\d{3},TF \d{5} \d{5},OSTN15$/)
    expect(err).toContain('line 3')
  })

  test('what is no coordinate', async () => {
    expect(await lynchetHere('coords', 'over there')).toMatchObject({ code: 1, out: '' })
  })
})

test('demo writes a sound survey, and not over another file', async () => {
  const file = at('demo.gpkg')
  expect(lynchetJson('demo', file)).toEqual({ written: file })
  expect(await jsonHere('check', file)).toEqual({ ok: true, problems: [] })
  expect(await lynchetHere('demo', file)).toMatchObject({ code: 1 })
})
