import { expect, test } from 'vitest'
import type { Layer, MarkSearch } from '#contract'
import type { LineCandidate, LineSettings, RingSettings } from '#core/marks'
import { openMarks } from '../../../test/service/open-marks.ts'
import { ground } from '../../../test/service/pictures.ts'
import { exportFile } from '../export.ts'
import { rasterPlace } from './layer-raster.ts'

const seen = { layerId: 1, view: { view: 'as-is' }, tone: 'either', most: 50 } as const
const pits = { ...seen, kind: 'pit', minDiameterM: 2, maxDiameterM: 6 } as const satisfies MarkSearch
const rings = { ...seen, kind: 'ring', minDiameterM: 12, maxDiameterM: 40 } as const satisfies MarkSearch
const lines = {
  ...seen,
  kind: 'line',
  minWidthM: 1,
  maxWidthM: 4,
  leastLengthM: 20,
} as const satisfies MarkSearch

const pit = { x: 160, y: 180, diameter: 6, tone: 'dark', roundness: 0.9, contrast: 7 } as const
// Pixels are half a metre, the picture 400 x 300 of them, north up.
const line: LineCandidate = {
  kind: 'line',
  xy: Float64Array.of(20, 20, 80, 100, 80, 200),
  length: 200,
  width: 3,
  tone: 'dark',
  completeness: 0.75,
  contrast: 2.5,
  pairSpacing: 4,
  mayBe: ['tramlines'],
  falseAlarmsPerMpx: 0.25,
}
const enclosure: LineCandidate = {
  ...line,
  kind: 'enclosure',
  xy: Float64Array.of(200, 100, 260, 100, 260, 180, 200, 180, 200, 100),
  pairSpacing: null,
  mayBe: [],
}

test('pits come back in metres, and a search that finds none says so in its own words', async () => {
  let asked: RingSettings | undefined
  let given = [{ ...pit, falseAlarmsPerMpx: 0.25 }]
  const { marks, survey, jobs } = await openMarks([], {
    pit: async ({ settings }) => {
      asked = settings
      return { candidates: given, flat: false }
    },
  })
  await marks.search(pits).done
  expect(asked).toEqual({ minDiameterPx: 4, maxDiameterPx: 12, tone: 'either', most: 50 })
  expect(marks.list()).toMatchObject([
    {
      kind: 'pit',
      state: 'candidate',
      easting: ground.west + 80,
      northing: ground.south + 60,
      diameterM: 3,
      ditchWidthM: null,
      completeness: null,
      contrast: 7,
      falseAlarmsPerKm2: 1,
    },
  ])
  expect(survey.undo()).toBe('search for pits on dry.png')
  given = []
  await marks.search(pits).done
  expect(jobs.at(-1)).toMatchObject({ state: 'done', label: 'dry.png: no pit was found' })
})

test('a rejected pit stays rejected when it is found again, and one that was made a ring is known by a search for rings', async () => {
  const ring = { ...pit, ditchWidth: 1, completeness: 1, gaps: [], ellipticity: 1, score: 0.9 }
  const { marks } = await openMarks([], {
    pit: async () => ({ candidates: [{ ...pit, falseAlarmsPerMpx: 1 }], flat: false }),
    ring: async () => ({ candidates: [{ ...ring, falseAlarmsPerMpx: 1 }], flat: false }),
  })
  await marks.search(pits).done
  const { id } = marks.list()[0]!
  marks.change(id, { state: 'rejected' })
  expect(await marks.search(pits).done).toMatchObject({ added: 0, known: 1, rejectedBefore: 1 })
  expect(marks.change(id, { kind: 'ring' })).toMatchObject({ kind: 'ring', edited: true })
  for (const again of [pits, { ...rings, minDiameterM: 2 }]) {
    expect(await marks.search(again).done).toMatchObject({ added: 0, known: 1 })
  }
  expect(marks.list()).toMatchObject([{ id, kind: 'ring', state: 'rejected' }])
})

const layer = { name: 'field.tif', bounds: [0, 0, 400, 300], pixelM: 0.5, tileM: 0.5 } as unknown as Layer

test('each kind is looked at as finely as it needs', () => {
  const pixel = (search: MarkSearch) => rasterPlace(layer, search).pixelM
  // A ring of 12 m has 24 pixels at half a metre; a pit has 8 and a line 3.
  expect([pixel(rings), pixel({ ...rings, minDiameterM: 24 })]).toEqual([0.5, 1])
  expect([pixel(pits), pixel({ ...pits, minDiameterM: 8, maxDiameterM: 20 })]).toEqual([0.5, 1])
  expect([pixel(lines), pixel({ ...lines, minWidthM: 3 })]).toEqual([0.5, 1])
})

test.each([
  [{ ...pits, minDiameterM: 1 }, 'so the smallest pit it can show is 2 m across; search from there'],
  [{ ...pits, maxDiameterM: 301 }, 'so no pit of 301 m fits; search up to there'],
  [{ ...lines, minWidthM: 0.5 }, 'so the narrowest line it can show is 0.75 m across; search from there'],
  [{ ...lines, minWidthM: 4 }, 'The least width must be below the greatest, not 4 m and 4 m.'],
  [{ ...lines, leastLengthM: 400 }, 'so no line of 400 m fits; search for shorter ones'],
])('what a layer cannot show is refused with its reason %#', (search, words) => {
  const fault = { code: 'setting-out-of-range', message: expect.stringContaining(words) }
  expect(() => rasterPlace(layer, search)).toThrow(expect.objectContaining(fault))
})

async function withLines(candidates: () => readonly LineCandidate[] = () => [line, enclosure]) {
  const asked: LineSettings[] = []
  const open = await openMarks([], {
    line: async ({ settings }) => {
      asked.push(settings)
      return { candidates: candidates(), flat: false }
    },
  })
  return { ...open, asked }
}

test('lines and enclosures come back in metres with what runs beside them and what they look like', async () => {
  const { marks, survey, asked } = await withLines()
  await marks.search(lines).done
  expect(asked).toEqual([
    { minWidthPx: 2, pixelM: 0.5, maxWidthPx: 8, leastLengthPx: 40, tone: 'either', most: 50 },
  ])
  const [way, field] = marks.list()
  const { west, south } = ground
  expect(way).toMatchObject({
    kind: 'line',
    diameterM: null,
    ditchWidthM: 1.5,
    pairSpacingM: 2,
    mayBe: ['tramlines'],
    completeness: 0.75,
    falseAlarmsPerKm2: 1,
    score: null,
  })
  const corners = way!.outline.map(([e, n]) => [Math.round(e - west), Math.round(n - south)])
  expect(corners).toEqual([
    [10, 140],
    [40, 100],
    [40, 50],
  ])
  // It is 50 m long either side of its bend, which is therefore half way along it.
  expect([way!.easting - west, way!.northing - south]).toEqual([
    expect.closeTo(40, 6),
    expect.closeTo(100, 6),
  ])
  expect(field).toMatchObject({ kind: 'enclosure', pairSpacingM: null, mayBe: [], ditchWidthM: 1.5 })
  expect(survey.check()).toEqual([])
})

test('a decision on a line outlasts a search, as its changed outline does', async () => {
  let given = [line, enclosure]
  const { marks } = await withLines(() => given)
  await marks.search(lines).done
  const [way, field] = marks.list()
  marks.change(way!.id, { state: 'rejected', note: 'wheels' })
  const outline = field!.outline.map(([e, n]): [number, number] => [e + 1, n])
  expect(marks.change(field!.id, { outline })).toMatchObject({ edited: true })
  given = [{ ...line, xy: line.xy.map((value) => value + 0.5) }, enclosure]
  expect(await marks.search(lines).done).toMatchObject({ added: 0, known: 2, rejectedBefore: 1, dropped: 0 })
  const [again, moved] = marks.list()
  expect(again).toMatchObject({ id: way!.id, state: 'rejected', note: 'wheels', outline: way!.outline })
  expect(moved!.outline[0]![0]).toBeCloseTo(outline[0]![0], 6)
})

test('what nobody decided is taken out by kind', async () => {
  const { marks } = await openMarks([], {
    pit: async () => ({ candidates: [{ ...pit, falseAlarmsPerMpx: 1 }], flat: false }),
    line: async () => ({ candidates: [line, enclosure], flat: false }),
  })
  await marks.search(pits).done
  await marks.search(lines).done
  expect(marks.removeUndecided('line')).toBe(2)
  expect(marks.list().map(({ kind }) => kind)).toEqual(['pit'])
  expect(marks.removeUndecided(null)).toBe(1)
})

test('all kinds go out with their figures, lines as lines and the rest as polygons', async () => {
  const { marks, survey } = await openMarks([], {
    pit: async () => ({ candidates: [{ ...pit, falseAlarmsPerMpx: 1 }], flat: false }),
    line: async () => ({ candidates: [line, enclosure], flat: false }),
  })
  await marks.search(pits).done
  await marks.search(lines).done
  const text = (format: 'kml' | 'geojson' | 'csv') =>
    new TextDecoder().decode(exportFile(survey, 'marks', format).bytes)
  const { features } = JSON.parse(text('geojson')) as {
    features: { geometry: { type: string; coordinates: number[][][] }; properties: Record<string, string> }[]
  }
  const of = (kind: string) => features.find(({ properties }) => properties.kind === kind)!
  expect(of('pit').geometry.type).toBe('Polygon')
  expect(of('pit').properties).toMatchObject({ diameter_m: '3.00', contrast: '7.00', tone: 'dark' })
  expect(of('line').geometry).toMatchObject({ type: 'LineString', coordinates: { length: 3 } })
  expect(of('line').properties).toMatchObject({
    length_m: '100.0',
    ditch_width_m: '1.50',
    pair_spacing_m: '2.00',
    may_be: 'tramlines',
  })
  // 30 m by 40 m.
  expect(of('enclosure').properties).toMatchObject({ area_m2: '1200.0', length_m: '140.0' })
  expect(of('enclosure').geometry.type).toBe('Polygon')
  expect(of('enclosure').geometry.coordinates[0]![0]).toEqual(of('enclosure').geometry.coordinates[0]!.at(-1))
  expect(
    text('kml')
      .match(/<(Polygon|LineString)>/g)
      ?.toSorted(),
  ).toEqual(['<LineString>', '<Polygon>', '<Polygon>'])
  expect(text('csv')).toContain('pair_spacing_m')
})

test('a cancelled search for rings, and one for pits, ends and leaves the survey as it was', async () => {
  const drawn = { east: 80, north: 60, diameterM: 24, ditchM: 2, grey: 60 }
  // The first piece of the real search that is done is the last that is told of.
  const { marks, cancel, survey, jobs } = await openMarks([drawn], {}, ({ id, label, done }) => {
    if (label.startsWith('looking for') && done > 0.45) cancel(id)
  })
  const before = survey.revision()
  for (const search of [rings, pits]) {
    await expect(marks.search(search).done).rejects.toMatchObject({ code: 'cancelled' })
    expect(jobs.at(-1)).toMatchObject({ state: 'cancelled' })
    expect(jobs.at(-1)!.done).toBeLessThan(1)
    expect([marks.list(), survey.revision()]).toEqual([[], before])
  }
})
