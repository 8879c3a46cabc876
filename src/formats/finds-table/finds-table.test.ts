import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { broadPeriods, dateParser } from '#core/dating'
import {
  certainties,
  completenesses,
  damageKinds,
  type FindRecord,
  findFields,
  numberedFind,
} from '#core/finds'
import { readTable } from '#formats/csv'
import { readXlsx } from '#formats/xlsx'
import {
  type DryRunOptions,
  dryRunFinds,
  type FindsDryRun,
  findsCsv,
  findsXlsx,
  guessColumns,
  headingsKey,
  ownHeadings,
  type TableRows,
  type WrittenPlace,
} from './index.ts'

const options: DryRunOptions = {
  surveyCode: 'NST',
  known: [],
  parseDate: dateParser(broadPeriods),
  emptyCells: 'keep',
  placeOf: () => null,
}
const rowsOf = (csv: string): TableRows => readTable(new TextEncoder().encode(csv), 'finds.csv').rows
const run = (csv: string, change: Partial<DryRunOptions> = {}): FindsDryRun =>
  dryRunFinds(rowsOf(csv), { ...options, ...change })
const known = (...finds: FindRecord[]) => finds.map((find) => ({ find, givenNumber: null }))
const find = (running: number, change: Partial<FindRecord> = {}): FindRecord => ({
  ...numberedFind(`NST-2026-${String(running).padStart(3, '0')}`),
  ...change,
})

const nasty = fc.constantFrom(
  '=1+1',
  "'=1+1",
  "''+x",
  '+44',
  '-5',
  '@SUM(A1)',
  '=cmd|"/c calc"!A0',
  'a;b',
  'a\\;b',
  'a\\',
  '"quoted"',
  'a\nb',
  'a,b',
  'é☂',
  '1200 BC',
  "'",
  ';',
)
const anyText = fc
  .oneof(nasty, fc.string({ minLength: 1 }))
  .map((text) => text.replace(/\r\n?/g, '\n').trim())
  .filter((text) => text !== '')
const orNull = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(arbitrary, { nil: null })
const anyWord = fc.record({ text: anyText, term: orNull(fc.constantFrom('fish:75351', 'he:RO', 'x:a;b')) })
// Below 1e-6 (a microgram, a nanometre) decimals are written to 20 places only.
const anyAmount = orNull(fc.double({ min: 1e-6, max: 1000, noNaN: true }))
const anyYear = orNull(fc.integer({ min: -3_000_000, max: 2100 }).filter((year) => year !== 0))
const anyFind = fc.record({
  number: fc
    .integer({ min: 0, max: 999_999 })
    .map((running) => `NST-2026-${String(running).padStart(3, '0')}`),
  findspot: orNull(fc.uuid()),
  visit: orNull(fc.uuid()),
  finder: orNull(anyText),
  depthCm: anyAmount,
  lay: orNull(anyText),
  signalNote: orNull(anyText),
  objectType: orNull(anyWord),
  materials: fc.array(anyWord, { maxLength: 3 }),
  period: orNull(anyWord),
  fromYear: anyYear,
  toYear: anyYear,
  certainty: orNull(fc.constantFrom(...certainties)),
  count: orNull(fc.integer({ min: 1, max: 1000 })),
  completeness: orNull(fc.constantFrom(...completenesses)),
  weightG: anyAmount,
  lengthMm: anyAmount,
  widthMm: anyAmount,
  thicknessMm: anyAmount,
  diameterMm: anyAmount,
  dieAxisH: orNull(fc.double({ min: 0.01, max: 12, noNaN: true })),
  condition: orNull(anyText),
  surface: orNull(anyText),
  damage: fc.subarray([...damageKinds]),
  decoration: orNull(anyText),
  description: orNull(anyText),
  parallels: fc.array(anyText, { maxLength: 3 }),
  conservation: orNull(anyText),
  warnings: fc.array(anyText, { maxLength: 2 }),
  whereNow: orNull(anyText),
  notes: orNull(anyText),
}) as fc.Arbitrary<FindRecord>
const someFinds = fc.uniqueArray(anyFind, { selector: ({ number }) => number, minLength: 1, maxLength: 4 })
const place: WrittenPlace = {
  lat: 53.01234567,
  lon: 0.4,
  easting: 558_512.1234,
  northing: 347_391,
  epsg: 27_700,
  gridRef: 'TF 58512 47391',
  accuracyM: 3.5,
  foundOn: '2026-09-12',
}

test('every field of a find has a column', () => {
  const columns = new Set(ownHeadings.map(([, column]) => column))
  expect(Object.keys(findFields).filter((field) => !columns.has(field as 'number'))).toEqual([])
})

test('a table of ours read into its survey changes nothing and has no faults', () => {
  fc.assert(
    fc.property(someFinds, fc.constantFrom('keep' as const, 'clear' as const), (finds, emptyCells) => {
      const csv = findsCsv(finds, () => place)
      const result = run(csv, { known: known(...finds), emptyCells, placeOf: () => place })
      expect(result).toMatchObject({ adds: [], changes: [], conflicts: [], same: finds.length, faults: [] })
    }),
  )
})

test('a table of ours read into an empty survey gives the same finds', () => {
  fc.assert(
    fc.property(someFinds, (finds) => {
      const { adds, faults } = run(findsCsv(finds, () => place))
      expect(faults).toEqual([])
      expect(adds.map(({ find: added }) => added)).toEqual(finds)
      expect(adds[0]!.place).toMatchObject({
        position: { epsg: 4326, x: 0.4, y: 53.01234567 },
        accuracyM: 3.5,
        time: Date.UTC(2026, 8, 12) / 1000,
      })
    }),
  )
})

test('so does a workbook of ours', async () => {
  await fc.assert(
    fc.asyncProperty(someFinds, async (finds) => {
      // Control characters cannot stand in XML at all.
      const plain = finds.map(
        (one) =>
          JSON.parse(JSON.stringify(one), (_, value: unknown) =>
            typeof value === 'string'
              ? value.replace(/[\p{Cc}\p{Cs}\p{Cn}]/gu, (c) => (c === '\n' ? c : '?'))
              : value,
          ) as FindRecord,
      )
      const { rows } = await readXlsx(
        findsXlsx(plain, () => place),
        { fileName: 'x.xlsx' },
      )
      const result = dryRunFinds(rows, { ...options, known: known(...plain), placeOf: () => place })
      expect(result).toMatchObject({ adds: [], changes: [], conflicts: [], same: plain.length, faults: [] })
    }),
    { numRuns: 20 },
  )
})

test('no cell of a table begins like a formula, but numbers', () => {
  fc.assert(
    fc.property(someFinds, (finds) => {
      const cells = rowsOf(findsCsv(finds, () => null)).flatMap((row) => row.cells)
      expect(cells.filter((cell) => !/^$|^[^=+\-@\t\r]|^-\d+(?:\.\d+)?$/.test(cell))).toEqual([])
    }),
  )
})

const table = `Catalogue of Ninestile,,,,,,,,
Find No.,Object Type,Material,Weight (g),Length,Date,Date found,Grid ref,Colour
NST-2026-001,Buckle,Copper alloy; iron,12.5,2 cm,C4,12/09/2026,TF 585 473,green
NST-2026-002,Coin,Silver,3 oz,,1200 BC,,,
NST-2026-003,Brooch,,5 gr,,year 0,,,
NST-2026-003,Brooch again,,,,,,,
XYZ-2026-004,Ring,Gold,,,,,,
SF 12,Pin,Bone,,,Iron Age?,,,
,Nail,Iron,,,,,nowhere,
`

test('a catalogue as people keep it: adds, conflicts and faults by line', () => {
  const { adds, conflicts, faults, columns } = run(table)
  expect(columns.map(({ column }) => column)).toEqual([
    'number',
    'objectType',
    'materials',
    'weightG',
    'lengthMm',
    'dating',
    'foundOn',
    'gridRef',
    null,
  ])
  expect(adds.map(({ line, find: { number }, givenNumber }) => [line, number, givenNumber])).toEqual([
    [3, 'NST-2026-001', null],
    [4, 'NST-2026-002', null],
    [5, 'NST-2026-003', null],
    [8, '', 'SF 12'],
    [9, '', null],
  ])
  expect(adds[0]!.find).toMatchObject({
    objectType: { text: 'Buckle', term: null },
    materials: [
      { text: 'Copper alloy', term: null },
      { text: 'iron', term: null },
    ],
    weightG: 12.5,
    lengthMm: 20,
    fromYear: 301,
    toYear: 400,
  })
  expect(adds[0]!.place).toMatchObject({
    position: { epsg: 27_700, x: 558_550, y: 347_350 },
    time: Date.UTC(2026, 8, 12) / 1000,
  })
  expect(adds[1]!.find).toMatchObject({ fromYear: -1200, toYear: -1200 })
  expect(adds[1]!.find.weightG).toBeCloseTo(85.048569375, 9)
  expect(adds[2]!.find).toMatchObject({ weightG: null, fromYear: null })
  expect(adds[3]!.find).toMatchObject({ fromYear: -800, toYear: 42, certainty: 'possible' })
  expect(conflicts.map(({ line, kind }) => [line, kind])).toEqual([
    [6, 'number-twice'],
    [7, 'other-survey'],
  ])
  const told = faults.map(({ line, code, text }) => `${line} ${code} ${text}`)
  expect(told).toEqual([
    expect.stringMatching(/^5 bad-value .*grams or grains/),
    expect.stringMatching(/^5 bad-value .*no year 0/),
    expect.stringMatching(/^6 bad-value .*line 5 already/),
    expect.stringMatching(/^7 bad-value .*survey XYZ/),
    expect.stringMatching(/^9 bad-coordinate .*without a place/),
    expect.stringMatching(/^2 unsupported-feature .*“Colour”/),
    expect.stringMatching(/^3 assumed Column “Length”: 1 cell was converted/),
    expect.stringMatching(
      /^3 assumed Column “Date”: 3 cells were converted; the first, “C4”: taken as 301 to 400/,
    ),
    expect.stringMatching(/^4 assumed Column “Weight \(g\)”: .*28\.349523125/),
  ])
})

test('changes are told field by field, and empty cells keep what is there unless they are to clear it', () => {
  const there = find(1, {
    weightG: 3,
    notes: 'old',
    objectType: { text: 'Coin', term: 'x:coin' },
    materials: [{ text: 'Iron', term: 'fish:75369' }],
  })
  const csv = 'number,object,materials,weight_g,notes\nNST-2026-001,Coin,Lead,4,\n'
  const kept = run(csv, { known: known(there) })
  expect(kept.changes).toEqual([
    {
      line: 2,
      number: 'NST-2026-001',
      changes: [
        { field: 'materials', before: there.materials, after: [{ text: 'Lead', term: null }] },
        { field: 'weightG', before: 3, after: 4 },
      ],
      after: { ...there, weightG: 4, materials: [{ text: 'Lead', term: null }] },
    },
  ])
  const cleared = run(csv, { known: known(there), emptyCells: 'clear' })
  expect(cleared.changes[0]!.changes.map(({ field, after }) => [field, after])).toContainEqual([
    'notes',
    null,
  ])
})

test('a find known by the number on its bag is found again', () => {
  const there = find(5, { objectType: { text: 'Pin', term: null } })
  const result = run('find no,object\nSF 12,Pin\nSF 13,Pin\n', {
    known: [{ find: there, givenNumber: 'SF 12' }],
  })
  expect(result).toMatchObject({ same: 1, adds: [{ givenNumber: 'SF 13' }] })
})

test('a row that would move a find is told, and moves nothing', () => {
  const result = run('number,grid_ref\nNST-2026-001,TF 1 1\n', {
    known: known(find(1)),
    placeOf: () => place,
  })
  expect(result).toMatchObject({
    same: 1,
    changes: [],
    faults: [{ line: 2, text: expect.stringContaining('another place') }],
  })
})

test('columns can be told of, and are remembered by their headings', () => {
  const columns = [
    { heading: 'A', column: 'number' as const, unit: null },
    { heading: 'number', column: 'weightG' as const, unit: 'oz' as const },
  ]
  const { adds } = run('A,number\nNST-2026-001,2\n', { columns })
  expect(adds[0]!.find.weightG).toBeCloseTo(56.69904625, 9)
  expect(headingsKey(['Find No.', 'weight_G'])).toBe(headingsKey(['find no', 'Weight g']))
  expect(() => run('A,number\n1,2\n', { columns: [] })).toThrow(RangeError)
})

test.each<[string, string, string | null]>([
  ['Weight (oz)', 'weightG', 'oz'],
  ['Wt', 'weightG', null],
  ['Diam (mm)', 'diameterMm', 'mm'],
  ['thicknessMm', 'thicknessMm', 'mm'],
  ['Depth (inches)', 'depthCm', 'in'],
  ['Small find no.', 'number', null],
  ['Date found', 'foundOn', null],
  ['Date from', 'fromYear', null],
  ['NGR', 'gridRef', null],
  ['Description', 'description', null],
  ['References', 'parallels', null],
])('%s is %s', (heading, column, unit) => {
  expect(guessColumns([heading], [])).toEqual([{ heading, column, unit }])
})

test('a column headed “Date” holds days found or dates of objects, as its cells show', () => {
  const of = (...cells: string[]) =>
    guessColumns(
      ['No', 'Date'],
      cells.map((cell) => ['1', cell]),
    )[1]!.column
  expect(of('12/09/2026', '', '13 September 2026', 'unknown')).toBe('foundOn')
  expect(of('1200 BC', 'C4', '12/09/2026')).toBe('dating')
  expect(of()).toBe('dating')
  expect(run('No,Object,Date\nNST-2026-001,Coin,12/09/2026\n').adds[0]!.place.time).toBe(
    Date.UTC(2026, 8, 12) / 1000,
  )
})

test('a second column of the same meaning is left out, not mixed in', () => {
  expect(guessColumns(['Notes', 'Comments'], []).map(({ column }) => column)).toEqual(['notes', null])
})

test('tables without rows or without known headings say so', () => {
  expect(run('')).toMatchObject({ adds: [], faults: [{ code: 'empty-file' }] })
  expect(run('a,b\n1,2\n')).toMatchObject({ adds: [], faults: [{ line: 1, code: 'missing-columns' }] })
})

test('the workbook of the fixture is read with its faults', async () => {
  const bytes = new Uint8Array(
    readFileSync(new URL('../../../fixtures/finds/spreadsheet/finds.xlsx', import.meta.url)),
  )
  const { rows } = await readXlsx(bytes, { fileName: 'finds.xlsx', sheet: 'Finds 2026' })
  const { adds } = dryRunFinds(rows, options)
  expect(
    adds.map(({ line, find: { number, objectType, weightG, fromYear } }) => [
      line,
      number,
      objectType?.text,
      weightG,
      fromYear,
    ]),
  ).toEqual([
    [4, 'NST-2026-001', 'Buckle', 12.5, null],
    [5, 'NST-2026-002', 'Coin', 3, 43],
    [6, 'NST-2026-003', '=HYPERLINK("http://example.org")', 0.1, null],
    [7, 'NST-2026-004', 'Brooch', null, null],
    [8, '', 'Pin of it', null, null],
    [10, 'NST-2026-005', 'Ring', 1e-7, null],
  ])
})
