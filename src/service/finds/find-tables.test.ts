import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { FindsFormat } from '#contract'
import { readXlsx } from '#formats/xlsx'
import { folderForTest, newSurvey } from '../../../test/store/sample.ts'
import { importFile } from '../import-file.ts'
import { FindsOfSurvey } from './finds-of-survey.ts'

function open() {
  const survey = newSurvey()
  survey.setGrid(27700)
  const finds = new FindsOfSurvey(survey, () => {})
  finds.add({
    record: {
      objectType: { text: '=cmd()', term: null },
      materials: [
        { text: 'Copper alloy', term: 'fish:75339' },
        { text: 'gold', term: null },
      ],
      period: { text: 'Roman', term: 'he:RO' },
      fromYear: -50,
      toYear: 43,
      certainty: 'probable',
      weightG: 4.25,
      depthCm: 12,
      damage: ['plough', 'old'],
      parallels: ['one; with a semicolon', 'two'],
      finder: 'Ann Finder',
      whereNow: 'the blue box',
      notes: 'line one\nline two',
    },
    place: { easting: 558_467.5, northing: 347_452.25, accuracyM: 2, foundAt: '2026-11-20T10:00:00.000Z' },
  })
  finds.add({ record: { description: 'no place' } })
  return { survey, finds }
}

const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes)

/** A file as it would come from the desk. */
function file(name: string, bytes: Uint8Array | string): string {
  const full = path.join(folderForTest(), name)
  writeFileSync(full, bytes)
  return full
}

test.each(['csv', 'xlsx'] as const)('reading back what was written as %s changes nothing', async (as) => {
  const { finds, survey } = open()
  const before = survey.revision()
  const made = await finds.export({ as })
  expect(made.features).toBe(2)
  const dry = await finds.table(made.fileName, file(made.fileName, made.bytes), { write: true })
  expect(dry).toMatchObject({ adds: 0, changes: 0, same: 2, conflicts: [], faults: [] })
  const imported = await importFile(survey, made.fileName, file(made.fileName, made.bytes))
  expect(imported).toMatchObject({ kind: 'finds-table', alreadyThere: true, added: { finds: 0 } })
  expect(survey.revision()).toBe(before)
})

test.each(['csv', 'xlsx'] as const)(
  'another survey takes all of it from the %s, places and terms and all',
  async (as) => {
    const { finds, survey } = open()
    const { fileName, bytes } = await finds.export({ as })
    const other = newSurvey()
    const reply = await new FindsOfSurvey(other, () => {}).table(fileName, file(fileName, bytes), {
      write: true,
    })
    expect(reply).toMatchObject({ adds: 2, placed: 1, written: true, conflicts: [] })
    const known = survey.catalogue.all()
    const came = other.catalogue.all()
    expect(came.map(({ record }) => ({ ...record, findspot: null }))).toEqual(
      known.map(({ record }) => ({ ...record, findspot: null })),
    )
    const place = came[0]!.foundAt!
    expect(place.planar?.easting).toBeCloseTo(558_467.5, 3)
    expect([place.accuracyM, place.time]).toEqual([2, Date.UTC(2026, 10, 20, 10) / 1000])
    expect(came[1]!.foundAt).toBeNull()
    expect(other.originals().map(({ name }) => name)).toEqual([fileName])
    expect(other.undo()).toBe(`table ${fileName}`)
    expect(other.catalogue.all()).toEqual([])
  },
)

test('the note on a findspot goes along, and comes back as it was', async () => {
  const { finds, survey } = open()
  const at = {
    easting: 558_460,
    northing: 347_450,
    note: 'beside the droveway',
    foundAt: '2026-11-20T10:00:00.000Z',
  }
  finds.add({ record: { objectType: { text: 'pin', term: null } }, place: at })
  const { fileName, bytes } = await finds.export({ as: 'csv' })
  expect(await finds.table(fileName, file(fileName, bytes), { write: true })).toMatchObject({
    changes: 0,
    same: 3,
  })
  const other = newSurvey()
  const geojson = await finds.export({ as: 'geojson' })
  await importFile(other, geojson.fileName, file(geojson.fileName, geojson.bytes))
  const pin = other.catalogue.all().find(({ record }) => record.number === 'NST-2026-003')!
  expect(pin.record.objectType?.text).toBe('pin')
  expect(pin.foundAt).toMatchObject({ note: 'beside the droveway', time: Date.parse(at.foundAt) / 1000 })
  expect(survey.catalogue.light(null).map(({ cells }) => cells[18])).toContain('beside the droveway')
})

test('a dry run shows what would change, and the columns may be read otherwise', async () => {
  const { finds, survey } = open()
  const table = [
    'number,object,Weight (oz),colour',
    'NST-2026-002,thimble,1,green',
    'NST-2026-002,again,,',
    'ABC-2026-001,other survey,,',
    'SF 12,=HYPERLINK("x"),heavy,',
  ].join('\n')
  const look = await finds.table('mine.csv', file('mine.csv', table), { write: false })
  expect(look).toMatchObject({ adds: 1, changes: 1, same: 0, written: false })
  expect(look.changed[0]).toMatchObject({ number: 'NST-2026-002', line: 2 })
  expect(look.changed[0]!.fields.map(({ label }) => label)).toEqual(['Object', 'Weight (g)'])
  expect(look.conflicts.map(({ line }) => line)).toEqual([3, 4])
  expect(look.faults.some(({ text }) => text.includes('colour'))).toBe(true)
  expect(look.faults.some(({ text }) => text.includes('heavy'))).toBe(true)
  expect(survey.catalogue.all()).toHaveLength(2)
  const columns = look.columns.map((one) => (one.heading === 'colour' ? { ...one, column: 'surface' } : one))
  await finds.table('mine.csv', file('mine.csv', table), { write: true, columns })
  const [, second, third] = survey.catalogue.all()
  expect(second!.record).toMatchObject({ surface: 'green', objectType: { text: 'thimble' } })
  // An ounce is 28.349523125 g (international yard and pound agreement, 1959).
  expect(second!.record.weightG).toBeCloseTo(28.349523125, 6)
  expect(third).toMatchObject({ givenNumber: 'SF 12', record: { number: 'NST-2026-003' } })
  await expect(
    finds.table('mine.csv', file('mine.csv', table), {
      write: true,
      columns: [{ ...columns[0]!, column: 'x' }],
    }),
  ).rejects.toThrow(expect.objectContaining({ code: 'bad-value' }))
})

test('formulas are neutralised in what a spreadsheet will open', async () => {
  const { finds } = open()
  expect(textOf((await finds.export({ as: 'csv' })).bytes)).toContain(",'=cmd(),")
  const { rows } = await readXlsx((await finds.export({ as: 'xlsx' })).bytes, { fileName: 'a.xlsx' })
  expect(rows[1]!.cells).toContain("'=cmd()")
})

test.each(['csv', 'xlsx', 'geojson', 'gpkg'] as const)(
  'a public copy as %s gives away no spot and no person',
  async (as) => {
    const { finds, survey } = open()
    const made = await finds.export({ as, public: true })
    expect(made.fileName).toBe(`nst-finds-public.${as}`)
    const text = await wordsOf(made.bytes, as)
    const { lon, lat, uuid } = survey.catalogue.all()[0]!.foundAt!
    for (const secret of [
      'Ann Finder',
      'blue box',
      'line one',
      '558467',
      '347452',
      'TF 58467',
      uuid,
      lon.toFixed(4),
      lat.toFixed(4),
    ])
      expect(text).not.toContain(secret)
    expect(text).toContain('TF 58 47')
    expect(text).toContain('Roman')
  },
)

/** What a reader of the file would find in it. */
async function wordsOf(bytes: Uint8Array, as: FindsFormat): Promise<string> {
  if (as === 'xlsx') return JSON.stringify((await readXlsx(bytes, { fileName: 'a.xlsx' })).rows)
  return as === 'gpkg' ? Buffer.from(bytes).toString('latin1') : textOf(bytes)
}

test('GeoJSON has each find once, with a point where there is one', async () => {
  const { finds } = open()
  const { features } = JSON.parse(textOf((await finds.export({ as: 'geojson' })).bytes))
  expect(features).toMatchObject([
    {
      id: 'NST-2026-001',
      geometry: { type: 'Point' },
      properties: { weight_g: 4.25, from_year: -50, finder: 'Ann Finder' },
    },
    { id: 'NST-2026-002', geometry: null, properties: { description: 'no place' } },
  ])
})

/** Where GDAL's programs are (Debian: gdal-bin). Made against GDAL 3.6.2. */
const lister = 'ogrinfo'
const gdal = spawnSync(lister, ['--version'], { encoding: 'utf8' }).stdout

test.skipIf(!gdal)('GDAL reads the GeoPackage: a layer of points with every value', async () => {
  const { finds } = open()
  const full = file('finds.gpkg', (await finds.export({ as: 'gpkg' })).bytes)
  const { stdout, stderr } = spawnSync(lister, ['-al', full], { encoding: 'utf8' })
  expect(stderr).toBe('')
  for (const part of [
    'Geometry: Point',
    'Feature Count: 2',
    'weight_g (Real) = 4.25',
    'from_year (Integer64) = -50',
    'POINT (0.36',
  ])
    expect(stdout).toContain(part)
})

test('only the wanted finds are written, and none is a fault', async () => {
  const { finds } = open()
  expect((await finds.export({ as: 'csv', ids: [2] })).features).toBe(1)
  await expect(finds.export({ as: 'csv', ids: [99] })).rejects.toThrow(
    expect.objectContaining({ code: 'nothing-to-export' }),
  )
})

test('linked data and the printed catalogue hold every find', async () => {
  const { finds } = open()
  const { '@graph': graph } = JSON.parse(textOf((await finds.export({ as: 'jsonld' })).bytes))
  expect(graph.map(({ _label }: { _label: string }) => _label)).toContain('=cmd() NST-2026-001')
  const pdf = await finds.export({ as: 'pdf' })
  expect([textOf(pdf.bytes.subarray(0, 5)), pdf.features]).toEqual(['%PDF-', 2])
})

test('a table that is wholly of another survey keeps its numbers, and says so', async () => {
  const { finds } = open()
  const table = 'number,object\nABC-2026-001,buckle\nABC-2026-002,thimble\n'
  const taken = await finds.table('abc.csv', file('abc.csv', table), { write: true })
  expect(taken).toMatchObject({ adds: 2, conflicts: [] })
  expect(taken.faults[0]!.text).toContain('All numbers are of survey ABC')
  expect(finds.list().rows.map(([, number]) => number)).toContain('ABC-2026-002')
  expect(await finds.table('abc.csv', file('abc.csv', table), { write: true })).toMatchObject({
    adds: 0,
    same: 2,
  })
})
