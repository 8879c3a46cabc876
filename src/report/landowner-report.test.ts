import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import type { AreaView, FindspotView, GapView, SurveyView, TrackView } from '#contract'
import { defaultSettings } from '#contract'
import { normal, seededRandom, uniform } from '#core/random'
import { countFinds } from './find-counts.ts'
import { type LandownerReportInput, landownerReport } from './index.ts'
import { inStrides } from './plan-drawing.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-report-'))
afterAll(() => rmSync(folder, { recursive: true }))

const madeAt = new Date('2026-10-01T09:30:00Z')
const [west, south] = [558_400, 347_420]
const square = (x: number, y: number, side: number): [number, number][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
  [x, y],
]

/** Poppler's pdftotext (tried with 22.12.0), an outside reader of what was written. Without it the tests of text are skipped. */
const canReadText = spawnSync('pdftotext', ['-v']).error === undefined
const textTest = test.skipIf(!canReadText)

/** Text of the report as a reader would copy it out. */
function textOf(bytes: Uint8Array): string {
  const file = path.join(folder, 'report.pdf')
  writeFileSync(file, bytes)
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
}

const cover = {
  areaM2: 25_218.4,
  coveredM2: 16_139.8,
  coveredShare: 0.64,
  expectedShare: null,
  passes: { mean: 0.97, max: 6 },
  gaps: { count: 212, areaM2: 8123.4, largestM2: 1204.5 },
  distanceM: 15_432.1,
  walkingS: 34_480,
  seconds: 0.4,
  cellM: 0.1,
  notes: ['One note of the sum itself.'],
  id: 'c1',
  madeAt: '2026-09-30T10:00:00Z',
  settings: defaultSettings,
  frame: { epsg: 27_700, west, north: south + 160, cellM: 0.1, columns: 2000, rows: 1600 },
  finds: 61,
  findsPerHour: 6.4,
  findsPerHectare: 24.2,
}

const survey: SurveyView = {
  file: 'ninestile.gpkg',
  code: 'NST',
  title: 'Ninestile Farm',
  demo: true,
  grid: { epsg: 27_700, name: 'British National Grid', method: 'OSTN15', expectedErrorM: 0.1 },
  bounds: [west, south, west + 160, south + 160],
  settings: defaultSettings,
  counts: { areas: 1, tracks: 2, fixes: 34_000, findspots: 61, finds: 61 },
  marks: { candidate: 0, accepted: 0, unsure: 0, rejected: 0, targets: 0 },
  revision: 9,
  undo: null,
  cover,
  coverStale: false,
}

const areas: AreaView[] = [
  {
    id: 1,
    name: 'Terrace field',
    kind: 'search',
    areaM2: 25_218.4,
    polygons: [[square(west, south, 160), square(west + 90, south + 90, 14)]],
  },
]
const gaps: GapView[] = [
  { id: 1, areaM2: 400, polygons: [[square(west + 10, south + 10, 20)]] },
  { id: 2, areaM2: 64, polygons: [[square(west + 120, south + 30, 8)]] },
]
const track = (id: number, start: string): TrackView => ({
  id,
  name: `walk ${id}`,
  walked: true,
  fixes: 17_000,
  start,
  end: null,
  sourceFile: null,
})

/** A walk up and down with a knot of fixes at every findspot, as standing still to dig leaves. */
function lineWithKnots(spots: readonly FindspotView[]): Float64Array {
  const random = seededRandom(4)
  const pairs: number[] = []
  for (let y = south + 1; y < south + 160; y += 2) {
    for (let i = 0; i <= 160; i++) pairs.push(west + i, y)
    for (const spot of spots.filter((each) => Math.abs(each.northing - y) < 1)) {
      for (let i = 0; i < 90; i++)
        pairs.push(spot.easting + 0.4 * normal(random), spot.northing + 0.4 * normal(random))
    }
    pairs.push(Number.NaN, Number.NaN)
  }
  return Float64Array.from(pairs)
}

function spotsOf(): FindspotView[] {
  const random = seededRandom(3)
  return Array.from({ length: 61 }, (_, i): FindspotView => {
    const easting = Math.round(uniform(random, west, west + 160) * 10) / 10
    const northing = Math.round(uniform(random, south, south + 160) * 10) / 10
    return {
      id: i,
      name: `NST-2026-${String(i + 1).padStart(3, '0')}`,
      easting,
      northing,
      lat: 53.0013 + i / 1e6,
      lon: 0.3605 + i / 1e6,
      gridRef: `TF ${Math.floor(easting) - 500_000} ${Math.floor(northing) - 300_000}`,
      accuracyM: 0.7,
      time: null,
      note: 'under the old thorn',
      finds: [
        {
          number: `NST-2026-${String(i + 1).padStart(3, '0')}`,
          object: i % 3 === 0 ? 'Buckle' : 'lead token',
          material: 'lead',
          period: i % 2 === 0 ? 'medieval' : 'post-medieval',
          count: 1,
          weightG: 3,
          depthM: 0.1,
        },
      ],
    }
  })
}

const findspots = spotsOf()
const input: LandownerReportInput = {
  survey,
  areas,
  gaps,
  tracks: [track(1, '2026-09-12T08:10:00Z'), track(2, '2026-09-20T08:35:00Z')],
  trackLines: [lineWithKnots(findspots)],
  findspots,
  madeAt,
}

textTest('the report holds the figures, the days and the counts', async () => {
  const bytes = await landownerReport(input)
  const text = textOf(bytes)
  for (const words of [
    'Ninestile Farm',
    'survey NST',
    'Searched on 12 September 2026 and 20 September 2026.',
    '2.52 ha',
    '1.61 ha, 64.0 % of the area',
    '0.81 ha in all',
    '212, the largest 0.12 ha',
    '15.43 km',
    '9 h 35 min',
    'One note of the sum itself.',
    'OSTN15',
    'National Grid TF 58 47',
    'open sea in the Wash',
    'finds officer and the coroner',
    'made 1 October 2026',
    'page 2 of 2',
  ]) {
    expect(text).toContain(words)
  }
  expect(text).toMatch(/buckle\s+11\s+10\s+21/)
  expect(text).toMatch(/lead token\s+20\s+20\s+40/)
  expect(text).toMatch(/all\s+31\s+30\s+61/)
})

textTest('no position, number or note of a find is in the text', async () => {
  const bytes = await landownerReport(input)
  const text = textOf(bytes)
  const digits = text.replaceAll(/[\s,.]/g, '')
  for (const spot of findspots) {
    expect(digits).not.toContain(String(Math.floor(spot.easting)))
    expect(digits).not.toContain(String(Math.floor(spot.northing)))
    expect(text).not.toContain(String(spot.lat))
    expect(text).not.toContain(String(spot.lon))
    expect(text).not.toContain(spot.gridRef!)
    expect(text).not.toContain(spot.name)
  }
  expect(text).not.toContain('thorn')
})

test('where the finds lie changes nothing in the report', async () => {
  const bytes = await landownerReport(input)
  const elsewhere = findspots.map((spot) => ({
    ...spot,
    easting: spot.easting + 3,
    northing: spot.northing - 5,
    lat: 0,
    lon: 0,
  }))
  expect(
    Buffer.from(await landownerReport({ ...input, findspots: elsewhere })).equals(Buffer.from(bytes)),
  ).toBe(true)
})

test('the knots of fixes where the walker stood to dig do not show', async () => {
  const [withKnots, without] = await Promise.all(
    [findspots, []].map((spots) => landownerReport({ ...input, trackLines: [lineWithKnots(spots)] })),
  )
  // Each knot has 90 fixes; in strides of 3 m little more is drawn than the way there and back.
  expect(withKnots!.length - without!.length).toBeLessThan(61 * 25)
})

test('a line in strides keeps its ends and passes over a knot', () => {
  const walk = Float64Array.of(0, 0, 2, 0, 4, 0, 4.5, 1, 3.8, 0.6, 5, -0.4, 4.2, 0.2, 8, 0, 9, 0)
  expect([...inStrides(walk, 3)]).toEqual([0, 0, 4, 0, 8, 0, 9, 0])
})

test('two runs give the same bytes, and the time handed in is the one written', async () => {
  const [first, second] = [await landownerReport(input), await landownerReport(input)]
  expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true)
  expect(Buffer.from(first).toString('latin1')).toContain('20261001093000')
})

textTest('a survey with nothing in it says so', async () => {
  const empty: LandownerReportInput = {
    survey: { ...survey, cover: null, grid: null, demo: false },
    areas: [],
    gaps: [],
    tracks: [],
    trackLines: [],
    findspots: [],
    madeAt,
  }
  const text = textOf(await landownerReport(empty))
  expect(text).toContain('No search area is recorded')
  expect(text).toContain('has not been worked out')
  expect(text).toContain('No finds are recorded')
  expect(text).toContain('The walks carry no dates')
  expect(text).not.toContain('open sea')
})

textTest('figures made before the last change are said to be so', async () => {
  const text = textOf(await landownerReport({ ...input, survey: { ...survey, coverStale: true } }))
  expect(text).toContain('changed after these figures were made')
})

textTest('Welsh and Polish letters are printed; what the font lacks is named', async () => {
  const title = 'Tŷ’n-y-ŵern, Łąka, Ελιά'
  const text = textOf(await landownerReport({ ...input, survey: { ...survey, title } }))
  expect(text).toContain('Tŷ’n-y-ŵern, Łąka, ????')
  expect(text).toContain('U+0395, U+03BB, U+03B9, U+03AC')
})

textTest('long tables of finds are cut to what fits and lose no find', async () => {
  const many = findspots.map((spot, i) => ({
    ...spot,
    finds: [{ ...spot.finds[0]!, object: `object ${i}`, period: `period ${i % 11}`, count: 2 }],
  }))
  const text = textOf(await landownerReport({ ...input, findspots: many }))
  expect(text).toContain('37 other objects')
  expect(text).toContain('5 other')
  expect(text).toMatch(/\n\s*all\s.*\s122\n/)
})

test('a findspot with no find counts as one, said apart', () => {
  const bare = { ...findspots[0]!, finds: [] }
  expect(countFinds([bare, findspots[1]!])).toEqual({
    periods: ['post-medieval', 'no period'],
    rows: [
      { object: 'lead token', counts: [1, 0], total: 1 },
      { object: 'not described', counts: [0, 1], total: 1 },
    ],
    total: 2,
    undescribed: 1,
  })
})
