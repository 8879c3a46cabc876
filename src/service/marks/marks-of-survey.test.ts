import { closeSync, openSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import type { MarkSearch } from '#contract'
import { SurveyError } from '#core/faults'
import type { RingCandidate } from '#core/marks'
import { blockLevels, readBlocks } from '#work'
import { emptySurvey, opened } from '../../../test/service/open-layers.ts'
import { openMarks } from '../../../test/service/open-marks.ts'
import {
  type DrawnRing,
  folderForTest,
  ground,
  pixelsOf,
  placedPicture,
} from '../../../test/service/pictures.ts'
import { exportFile } from '../export.ts'
import { importFiles } from '../import-file.ts'
import { Jobs } from '../jobs.ts'
import type { MarkFinders } from './mark-finders.ts'
import { MarksOfSurvey } from './marks-of-survey.ts'

const ring: DrawnRing = { east: 80, north: 60, diameterM: 24, ditchM: 2, grey: 60 }

const candidate = (over: Partial<RingCandidate> = {}): RingCandidate => ({
  x: 160,
  y: 180,
  diameter: 48,
  ditchWidth: 4,
  tone: 'dark',
  completeness: 0.75,
  gaps: [{ fromDeg: 350, toDeg: 440 }],
  ellipticity: 0.95,
  contrast: 3.5,
  score: 0.875,
  falseAlarmsPerMpx: 0.25,
  ...over,
})

/** A survey with one picture and its marks; `detect` stands for the detector and says what it gives. */
const withRing = (detect: (...given: Parameters<MarkFinders['ring']>) => Promise<RingCandidate[]>) =>
  openMarks([ring], { ring: async (...given) => ({ candidates: await detect(...given), flat: false }) })

const search = {
  kind: 'ring',
  layerId: 1,
  view: { view: 'as-is' },
  minDiameterM: 12,
  maxDiameterM: 40,
  tone: 'either',
  most: 50,
} as const satisfies MarkSearch

test('the detector is given the picture in metres of the grid: the drawn ring lies where it was drawn', async () => {
  let seen: { columns: number; rows: number; settings: unknown; values: Float32Array } | undefined
  const { marks } = await withRing(async ({ blocks, columns, rows, settings }) => {
    const file = openSync(blocks, 'r')
    const window = { left: 0, top: 0, width: columns, height: rows }
    const values = readBlocks(file, blockLevels(columns, rows).levels[0]!, window)
    closeSync(file)
    seen = { columns, rows, settings, values }
    return []
  })
  await marks.search(search).done
  const { columns, rows, values } = seen!
  expect([columns, rows]).toEqual([400, 300])
  expect(seen!.settings).toEqual({ minDiameterPx: 24, maxDiameterPx: 80, tone: 'either', most: 50 })
  let [sum, x, y] = [0, 0, 0]
  for (let i = 0; i < values.length; i++) {
    if (values[i]! > 100) continue
    sum += 1
    x += (i % columns) + 0.5
    y += Math.floor(i / columns) + 0.5
  }
  // Half a metre a pixel, 150 m from north to south: the middle of the dark pixels is that of the ring, to a tenth of a pixel.
  expect(x / sum).toBeCloseTo(ring.east / 0.5, 1)
  expect(y / sum).toBeCloseTo((150 - ring.north) / 0.5, 1)
  expect(sum * 0.25).toBeCloseTo(Math.PI * ring.diameterM * ring.ditchM, -1)
})

test('candidates come back in metres, bearings and square kilometres, and one Undo takes the search back', async () => {
  const { marks, survey, jobs } = await withRing(async () => [candidate()])
  const outcome = await marks.search(search).done
  expect(outcome).toMatchObject({ found: 1, added: 1 })
  const [mark] = marks.list()
  expect(mark).toMatchObject({
    kind: 'ring',
    state: 'candidate',
    easting: ground.west + ring.east,
    northing: ground.south + ring.north,
    diameterM: 24,
    ditchWidthM: 2,
    arcGaps: [{ fromDeg: 350, toDeg: 440 }],
    // A quarter of one in a million pixels of 0.25 square metres each, which are a quarter of a square kilometre.
    falseAlarmsPerKm2: 1,
    layerId: 1,
    layerName: 'dry.png',
    view: { view: 'as-is' },
    madeBy: 'detector',
  })
  expect(mark!.outline).toHaveLength(65)
  for (const [e, n] of mark!.outline) {
    expect(Math.hypot(e - mark!.easting, n - mark!.northing)).toBeCloseTo(12, 3)
  }
  expect(jobs.filter(({ kind }) => kind === 'marks').at(-1)).toMatchObject({
    state: 'done',
    done: 1,
    label: 'dry.png: 1 candidate: 1 new',
  })
  expect(survey.undo()).toBe('search for rings on dry.png')
  expect(marks.list()).toEqual([])
})

test('what was rejected does not come back, and the decision stays', async () => {
  let given = [candidate(), candidate({ x: 300, y: 100, score: 0.5 })]
  const { marks } = await withRing(async () => given)
  await marks.search(search).done
  const [first, second] = marks.list()
  marks.change(first!.id, { state: 'rejected', note: 'a feeder' })
  given = [candidate({ x: 165, diameter: 52 })]
  const outcome = await marks.search(search).done
  expect(outcome).toMatchObject({ found: 1, added: 0, known: 1, rejectedBefore: 1, dropped: 1 })
  expect(marks.list()).toMatchObject([{ id: first!.id, state: 'rejected', note: 'a feeder', diameterM: 24 }])
  expect(marks.list().map(({ id }) => id)).not.toContain(second!.id)
})

test('a mark is moved and resized, and its outline with it', async () => {
  const { marks, survey } = await withRing(async () => [candidate()])
  await marks.search(search).done
  const [{ id, easting }] = marks.list() as [ReturnType<typeof marks.list>[0]]
  const moved = marks.change(id, { easting: easting + 3, diameterM: 30 })
  expect(moved).toMatchObject({ easting: easting + 3, diameterM: 30, edited: true, falseAlarmsPerKm2: 1 })
  const eastings = moved.outline.map(([e]) => e)
  expect(Math.max(...eastings) - Math.min(...eastings)).toBeCloseTo(30, 6)
  expect(survey.check()).toEqual([])
  for (const wrong of [
    { kind: 'line' },
    {
      outline: [
        [0, 0],
        [1, 1],
      ],
    },
  ] as const) {
    expect(() => marks.change(id, wrong as never)).toThrow(
      expect.objectContaining({ code: 'setting-out-of-range' }),
    )
  }
  expect(() => marks.change(id, { easting: 1e9 })).toThrow(expect.objectContaining({ code: 'outside-grid' }))
  expect(() => marks.change(99, { state: 'accepted' })).toThrow(
    expect.objectContaining({ code: 'not-found' }),
  )
})

test('lines and enclosures are drawn by hand; one that crosses itself is refused', async () => {
  const { marks } = await withRing(async () => [])
  const [w, s] = [ground.west, ground.south]
  const corners: [number, number][] = [
    [w, s],
    [w + 10, s],
    [w + 10, s + 10],
    [w, s + 10],
  ]
  const enclosure = marks.add({ kind: 'enclosure', outline: corners, layerId: 1, view: { view: 'as-is' } })
  expect(enclosure).toMatchObject({
    state: 'accepted',
    madeBy: 'hand',
    diameterM: null,
    easting: w + 5,
    layerName: 'dry.png',
  })
  expect(enclosure.outline).toHaveLength(5)
  const line = marks.add({
    kind: 'line',
    outline: [
      [w, s],
      [w + 10, s + 4],
    ],
  })
  expect(line.outline.map((pair) => pair.map((metres) => Math.round(metres * 1000) / 1000))).toEqual([
    [w, s],
    [w + 10, s + 4],
  ])
  const crossing = [corners[0]!, corners[2]!, corners[1]!, corners[3]!]
  for (const outline of [crossing, [corners[0]!, corners[0]!]]) {
    const kind = outline === crossing ? 'enclosure' : 'line'
    expect(() => marks.add({ kind, outline })).toThrow(expect.objectContaining({ code: 'area-invalid' }))
  }
})

test('a chip shows the ground about the middle of the mark', async () => {
  const { marks } = await withRing(async () => [candidate()])
  await marks.search(search).done
  const id = marks.list()[0]!.id
  const chip = await pixelsOf((await marks.chip(id, { layerId: 1, view: null, sideM: 64 })).png)
  // A quarter of a metre a pixel: the ditch, 12 m from the middle, is 48 pixels off it in every direction.
  const reach = 48
  for (const [x, y] of [
    [128, 128 - reach],
    [128 + reach, 128],
    [128, 128 + reach],
    [128 - reach, 128],
  ] as const) {
    expect(chip.at(x, y)[0]).toBeLessThan(80)
    expect(chip.at(128 + (x - 128) / 2, 128 + (y - 128) / 2)[0]).toBeGreaterThan(130)
  }
  await expect(marks.chip(id, { layerId: 9, view: null, sideM: null })).rejects.toMatchObject({
    code: 'not-found',
  })
  await expect(marks.chip(id, { layerId: 1, view: null, sideM: 1 })).rejects.toMatchObject({
    code: 'setting-out-of-range',
  })
})

test('a target is made once at the middle of a mark; others are typed in, renamed and removed', async () => {
  const { marks } = await withRing(async () => [candidate()])
  await marks.search(search).done
  const { id, easting, northing } = marks.list()[0]!
  const target = marks.makeTarget(id)
  expect(target).toMatchObject({
    name: `Ring ${id}`,
    markId: id,
    easting,
    northing,
    gridRef: 'TF 58480 47460',
  })
  expect(marks.makeTarget(id)).toEqual(target)
  expect(marks.list()[0]!.targetId).toBe(target.id)
  const typed = marks.addTarget({ name: 'gate', easting: easting + 1, northing, note: 'ask' })
  expect(marks.changeTarget(typed.id, { name: 'far gate', northing: northing + 1 })).toMatchObject({
    name: 'far gate',
    easting: easting + 1,
    northing: northing + 1,
    note: 'ask',
  })
  marks.removeTarget(typed.id)
  marks.remove(id)
  expect(marks.targets()).toMatchObject([{ id: target.id, markId: null }])
  expect(() => marks.makeTarget(id)).toThrow(expect.objectContaining({ code: 'not-found' }))
  expect(() => marks.changeTarget(77, { name: 'x' })).toThrow(expect.objectContaining({ code: 'not-found' }))
})

test.each([
  [{ minDiameterM: 40, maxDiameterM: 12 }, 'setting-out-of-range', 'below the largest'],
  [{ minDiameterM: 1.5 }, 'setting-out-of-range', 'the smallest ring it can show is 2 m across'],
  [{ maxDiameterM: 200 }, 'setting-out-of-range', '150 m across at its narrowest'],
  [{ layerId: 9 }, 'not-found', 'no layer 9'],
] as const)('a search for %o is refused at once', async (over, code, words) => {
  const { marks } = await withRing(async () => [])
  const fault = expect.objectContaining({ code, message: expect.stringContaining(words) })
  expect(() => marks.search({ ...search, ...over })).toThrow(fault)
})

test('candidates that nobody touched go at once, and one Undo brings them back', async () => {
  const places = [0, 1, 2, 3].map((n) => candidate({ x: 50 + 90 * n, y: 60 }))
  const { marks, survey } = await withRing(async () => places)
  await marks.search(search).done
  const [first, second, third, fourth] = marks.list()
  marks.change(first!.id, { state: 'unsure' })
  marks.change(second!.id, { note: 'look again' })
  marks.makeTarget(third!.id)
  expect(marks.removeUndecided(null)).toBe(1)
  expect(marks.list().map(({ id }) => id)).toEqual([first!.id, second!.id, third!.id])
  expect(survey.undo()).toBe('removal of the undecided candidates')
  expect(marks.list().map(({ id }) => id)).toContain(fourth!.id)
})

test('a picture of one brightness is no ground to search', async () => {
  const folder = folderForTest()
  const [picture, world, system] = await placedPicture(folder, 'even')
  await sharp({ create: { width: 400, height: 300, channels: 3, background: '#777' } })
    .png()
    .toFile(picture)
  const survey = path.join(folder, 'nst.gpkg')
  await importFiles(survey, [picture, world, system])
  const open = opened(survey)
  const jobs = new Jobs(String, () => {})
  const start = jobs.start.bind(jobs)
  const marks = new MarksOfSurvey(open.survey, { layers: open.layers, changed: () => {}, start })
  await expect(marks.search({ ...search, maxDiameterM: 40 }).done).rejects.toMatchObject({
    code: 'flat-raster',
    message: expect.stringContaining('even.png has nothing to look at in this view'),
  })
})

test('a cancelled search changes nothing', async () => {
  const { marks, cancel, survey } = await withRing(async (_input, options) => {
    await new Promise((resolve) => options?.signal?.addEventListener('abort', resolve))
    throw new SurveyError('cancelled', 'The search was cancelled.')
  })
  const before = survey.revision()
  const { job, done } = marks.search(search)
  setTimeout(() => cancel(job), 20)
  await expect(done).rejects.toMatchObject({ code: 'cancelled' })
  expect([marks.list(), survey.revision()]).toEqual([[], before])
})

test('a survey without a grid has no marks and takes none', () => {
  const { survey, layers } = opened(emptySurvey(folderForTest()))
  const marks = new MarksOfSurvey(survey, {
    layers,
    changed: () => {},
    start: () => {
      throw new Error('not asked for')
    },
  })
  expect([marks.list(), marks.targets()]).toEqual([[], []])
  const drawn = { kind: 'ring', easting: 1, northing: 1, diameterM: 10 } as const
  expect(() => marks.add(drawn)).toThrow(expect.objectContaining({ code: 'no-track' }))
})

test('marks go out as outlines or points, rejected ones not at all; targets as points', async () => {
  const { marks, survey } = await withRing(async () => [candidate(), candidate({ x: 300, y: 100 })])
  expect(() => exportFile(survey, 'marks', 'gpx')).toThrow(
    expect.objectContaining({ code: 'nothing-to-export' }),
  )
  await marks.search(search).done
  const [first, second] = marks.list()
  marks.change(second!.id, { state: 'rejected' })
  marks.change(first!.id, { note: 'walk it' })
  marks.add({
    kind: 'line',
    outline: [
      [ground.west, ground.south],
      [ground.west + 10, ground.south],
    ],
  })
  marks.makeTarget(first!.id)
  const text = (what: 'marks' | 'targets', format: 'gpx' | 'kml' | 'geojson' | 'csv') =>
    new TextDecoder().decode(exportFile(survey, what, format).bytes)
  const { features } = JSON.parse(text('marks', 'geojson'))
  expect(features.map((each: { geometry: { type: string } }) => each.geometry.type)).toEqual([
    'Polygon',
    'LineString',
  ])
  expect(features[0].properties).toMatchObject({ kind: 'ring', state: 'candidate', diameter_m: '24.00' })
  expect(text('marks', 'gpx').match(/<wpt /g)).toHaveLength(2)
  expect(text('marks', 'csv')).toContain('walk it')
  expect(text('marks', 'kml')).toContain('<Polygon>')
  for (const format of ['gpx', 'kml', 'geojson', 'csv'] as const) {
    expect(text('targets', format)).toContain('Ring 1')
  }
})
