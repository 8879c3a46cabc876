import { existsSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import type { FindColumn } from '#contract'
import { labelCodeText } from '#core/labels'
import { findspot, folderForTest, newSurvey, noContent, original } from '../../../test/store/sample.ts'
import { checkPhotographs } from './check-photographs.ts'
import { FindsOfSurvey } from './finds-of-survey.ts'
import { photographsFolder } from './photograph-files.ts'

function open() {
  const survey = newSurvey()
  survey.addFile(original('a.csv'), { ...noContent, gridEpsg: 27700, findspots: [findspot('A')] })
  let changes = 0
  const finds = new FindsOfSurvey(survey, () => {
    changes += 1
  })
  return { survey, finds, changes: () => changes }
}
const coded = (code: string) => expect.objectContaining({ code })

/** A picture on its side, taken at a place that must not get out. */
async function picture(name: string, colour = '#884422'): Promise<string> {
  const file = path.join(folderForTest(), name)
  await sharp({ create: { width: 60, height: 40, channels: 3, background: colour } })
    .withExif({
      IFD0: { Artist: 'Ann' },
      IFD2: { DateTimeOriginal: '2026:11:20 10:15:30' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '53/1 1/1 2/1' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toFile(file)
  return file
}

test('a find is entered with number, what and where, told whole and in the list', () => {
  const { finds, changes, survey } = open()
  const added = finds.add({
    record: { objectType: { text: 'buckle', term: null } },
    place: { text: 'TF 584 475', foundAt: '2026-11-20T10:00:00.000Z' },
  })
  expect(added).toMatchObject({
    record: { number: 'NST-2026-001', objectType: { text: 'buckle', term: null } },
    place: { shared: 0, foundAt: '2026-11-20T10:00:00.000Z' },
  })
  // OSTN15 there and back: within a tenth of a millimetre.
  expect(added.place?.easting).toBeCloseTo(558_450, 4)
  expect(added.place?.northing).toBeCloseTo(347_550, 4)
  expect(added.place?.accuracyM).toBeCloseTo(70.7, 1)
  expect(changes()).toBe(1)
  const { columns, rows } = finds.list()
  const cell = (row: number, column: FindColumn) => rows[row]![columns.indexOf(column)]
  expect([0, 1].map((row) => cell(row, 'number'))).toEqual(['NST-2023-001', 'NST-2026-001'])
  expect([cell(0, 'object'), cell(0, 'material'), cell(0, 'depthCm'), cell(0, 'easting')]).toEqual([
    'buckle',
    'copper alloy',
    12,
    557_800.25,
  ])
  expect(rows.every((row) => row.length === columns.length)).toBe(true)
  expect([cell(0, 'weightG'), cell(0, 'count'), cell(0, 'photographs'), cell(0, 'findspot')]).toEqual([
    4.25, 1, 0, 1,
  ])
  expect([cell(1, 'gridRef'), cell(1, 'foundAt')]).toEqual(['TF 584 475', '2026-11-20T10:00:00.000Z'])
  expect(survey.undo()).toBe('entry of a find')
  expect(finds.list().rows).toHaveLength(1)
})

test('a place keeps what an edit leaves out, and what is no place is refused', () => {
  const { finds } = open()
  const { id } = finds.add({
    record: {},
    place: { text: 'TF 584 475', note: 'by the gate', foundAt: '2026-11-20T10:00:00.000Z' },
  })
  const moved = finds.change(id, { place: { easting: 558_460.5, northing: 347_550.25, accuracyM: 2 } })
  expect(moved.place).toMatchObject({
    easting: 558_460.5,
    northing: 347_550.25,
    accuracyM: 2,
    note: 'by the gate',
    foundAt: '2026-11-20T10:00:00.000Z',
  })
  expect(() => finds.change(id, { place: { text: 'over there' } })).toThrow(coded('bad-coordinate'))
  expect(() => finds.change(id, { place: { text: '48.8584, 2.2945' } })).toThrow(coded('outside-grid'))
  expect(finds.change(id, { place: null }).place).toBeNull()
})

test('the code of a label, a number, or its last figures name a find; what is known of others is said', () => {
  const { finds, survey } = open()
  const { id, record } = finds.add({ record: {} })
  const { uuid } = survey.identity()
  for (const text of [
    record.number,
    'nst-2026-001',
    ' 1 ',
    labelCodeText({ number: record.number, survey: uuid }),
  ])
    expect(finds.named(text).id).toBe(id)
  survey.catalogue.reserve(2026, 1, null)
  finds.add({ record: {} })
  finds.remove([id])
  const sentence = (text: string): string => {
    try {
      finds.named(text)
      return 'found'
    } catch (error) {
      return (error as Error).message
    }
  }
  expect(sentence('NST-2026-001')).toBe('NST-2026-001 is no longer in the survey: removal of NST-2026-001.')
  expect(sentence('NST-2026-002')).toContain('blank label')
  expect(sentence('ABC-2026-001')).toContain('another survey (ABC)')
  expect(sentence(`${record.number} ${'1'.repeat(32)}`)).toContain('label of another survey')
  expect(sentence('buckle')).toContain('is no find number')
})

test('many finds are changed as one step, and each tells its history', () => {
  const { finds, survey } = open()
  const ids = [1, 2, 3].map(() => finds.add({ record: { weightG: 4 } }).id)
  finds.changeMany({ ids, record: { condition: 'worn', depthCm: 12 } })
  finds.addEvent({ ids, kind: 'cleaned', happenedOn: '2026-11-21', who: 'Ben', note: null })
  const history = finds.history(ids[0]!)
  expect(history.map(({ kind, what }) => [kind, what])).toEqual([
    ['cleaned', null],
    ['change', 'change of 3 finds: condition, depth'],
    ['change', 'entry of a find'],
  ])
  expect(history[1]!.fields).toEqual([
    { label: 'Condition', before: '', after: 'worn' },
    { label: 'Depth (cm)', before: '', after: '12' },
  ])
  expect(survey.undo()).toBe('cleaned: 3 finds')
  expect(survey.undo()).toBe('change of 3 finds: condition, depth')
  expect(finds.one(ids[2]!).record.condition).toBeNull()
  expect(() => finds.changeMany({ ids, record: { number: 'NST-2026-009' } })).toThrow(coded('number-taken'))
})

test('numbers without a find are explained', () => {
  const { finds, survey } = open()
  const [first] = [finds.add({ record: {} }), finds.add({ record: {} })]
  finds.remove([first!.id])
  survey.catalogue.reserve(2026, 2, 'for the north strip')
  finds.noteNumber({ number: 'NST-2026-004', state: 'void', note: 'label torn' })
  finds.add({ record: { number: 'NST-2026-007' } })
  expect(finds.numbers()).toEqual({
    years: [
      { year: 2023, last: 1, used: 1 },
      { year: 2026, last: 7, used: 2 },
    ],
    gaps: [
      { number: 'NST-2026-001', state: 'lost', why: 'removal of NST-2026-001' },
      { number: 'NST-2026-003', state: 'label', why: 'for the north strip' },
      { number: 'NST-2026-004', state: 'void', why: 'label torn' },
      { number: 'NST-2026-005', state: 'unknown', why: expect.any(String) },
      { number: 'NST-2026-006', state: 'unknown', why: expect.any(String) },
    ],
    next: 'NST-2026-008',
  })
  expect(() => finds.noteNumber({ number: 'NST-2026-002', state: 'void', note: null })).toThrow(
    coded('number-taken'),
  )
})

test('a photograph is turned upright, kept beside the survey, known again, and given out without its place', async () => {
  const { finds, survey } = open()
  const { id } = finds.add({ record: {} })
  const file = await picture('coin.jpg')
  const { photograph, alreadyThere } = await finds.addPhotograph(id, 'coin.jpg', 'obverse', file)
  expect(photograph).toMatchObject({ width: 40, height: 60, takenAt: '2026-11-20T10:15:30', found: true })
  expect(alreadyThere).toBe(false)
  expect(existsSync(file)).toBe(false)
  expect(readdirSync(photographsFolder(survey.path))).toEqual(['coin.jpg'])
  for (const size of ['small', 'screen'] as const) {
    const bytes = await finds.picture(photograph.id, size)
    const metadata = await sharp(bytes).metadata()
    expect([metadata.format, metadata.width, metadata.height, metadata.exif]).toEqual([
      'jpeg',
      40,
      60,
      undefined,
    ])
  }
  const again = await finds.addPhotograph(id, 'copy.jpg', 'reverse', await picture('copy.jpg'))
  expect(again).toMatchObject({ alreadyThere: true, photograph: { id: photograph.id } })
  const other = finds.add({ record: {} })
  const shared = await finds.addPhotograph(other.id, 'copy.jpg', 'other', await picture('copy.jpg'))
  expect(shared.alsoOf).toEqual(['NST-2026-001'])
  expect(readdirSync(photographsFolder(survey.path))).toEqual(['coin.jpg'])
  expect(finds.changePhotograph(photograph.id, { scaleLine: [0, 0, 30, 40, 25] }).mmPerPixel).toBe(0.5)
  expect(() => finds.changePhotograph(photograph.id, { scaleLine: [5, 5, 5, 5, 25] })).toThrow(
    coded('bad-value'),
  )
  rmSync(photographsFolder(survey.path), { recursive: true })
  expect(finds.one(id).photographs[0]!.found).toBe(false)
  await expect(finds.picture(photograph.id, 'screen')).rejects.toThrow('coin.jpg is no longer where it was')
  expect((await finds.picture(photograph.id, 'small')).length).toBeGreaterThan(100)
})

test('HEIC, 300 MB, and what is no picture are refused with what to do, and nothing is kept', async () => {
  const { finds, survey } = open()
  const { id } = finds.add({ record: {} })
  const folder = folderForTest()
  const file = (name: string, bytes: string): string => {
    writeFileSync(path.join(folder, name), bytes, 'latin1')
    return path.join(folder, name)
  }
  const large = file('large.jpg', 'x')
  truncateSync(large, 300 * 2 ** 20)
  const add = (name: string) => finds.addPhotograph(id, name, 'other', path.join(folder, name))
  file('phone.heic', '\0\0\0\x18ftypheic\0\0\0\0mif1heic')
  file('text.jpg', 'not a picture at all')
  await expect(add('large.jpg')).rejects.toThrow(/^large.jpg has 300 MiB, more than .* as JPEG/)
  await expect(add('phone.heic')).rejects.toThrow(/^phone.heic is a HEIC picture.* export it as JPEG/)
  await expect(add('text.jpg')).rejects.toThrow(coded('unknown-kind'))
  expect(finds.one(id).photographs).toEqual([])
  expect(existsSync(photographsFolder(survey.path))).toBe(false)
})

test('a join is accepted or not, with the distance between the findspots', () => {
  const { finds, survey } = open()
  const a = finds.add({ record: {}, place: { easting: 558_000, northing: 347_000 } }).id
  const b = finds.add({ record: {}, place: { easting: 558_003, northing: 347_004 } }).id
  finds.changeJoin({ first: b, second: a, state: 'accepted', note: 'break fits' })
  expect(finds.joins()).toMatchObject([{ state: 'accepted', distanceM: 5, note: 'break fits' }])
  finds.changeJoin({ first: a, second: b, state: 'rejected' })
  expect(finds.joins()).toMatchObject([{ state: 'rejected', note: 'break fits' }])
  expect(survey.undo()).toBe('join of NST-2026-001 and NST-2026-002: rejected')
})

test('labels: of finds, blank ones that are then expected, and those printed once more', async () => {
  const { finds, survey } = open()
  const sheet = 'a4-3x8-63.5x33.9'
  const pdf = await finds.labels({ ids: [1], sheet })
  expect([pdf.fileName, pdf.features]).toEqual(['nst-labels.pdf', 1])
  expect(Buffer.from(pdf.bytes.subarray(0, 5)).toString()).toBe('%PDF-')
  expect((await finds.labels({ blank: 3, sheet })).features).toBe(3)
  expect(survey.catalogue.numberNotes().map(({ number, state }) => [number, state])).toEqual([
    ['NST-2026-001', 'label'],
    ['NST-2026-002', 'label'],
    ['NST-2026-003', 'label'],
  ])
  expect((await finds.labels({ again: ['NST-2026-002'], sheet: 'roll-62x29' })).features).toBe(1)
  await expect(finds.labels({ again: ['NST-2026-009'], sheet })).rejects.toThrow(
    'no blank label of this survey',
  )
  await expect(finds.labels({ sheet })).rejects.toThrow(coded('nothing-to-export'))
  await expect(finds.labels({ ids: [1], sheet: 'a5' })).rejects.toThrow('There is no label paper "a5"')
  await expect(finds.labels({ ids: [1], sheet: 'roll-5x5' })).rejects.toThrow('too small')
  await expect(finds.labels({ ids: [1], sheet, skip: 24 })).rejects.toThrow('has 24 labels')
})

test('joins are put forward for fragments near one another, and what was decided is not asked again', () => {
  const { finds } = open()
  const piece = (east: number, material: string, thicknessMm: number) =>
    finds.add({
      record: { materials: [{ text: material, term: null }], completeness: 'fragment', thicknessMm },
      place: { easting: 558_000 + east, northing: 347_000, accuracyM: 1 },
    }).id
  const [a, b] = [piece(0, 'copper alloy', 2), piece(4, 'copper alloy', 2)]
  piece(500, 'copper alloy', 2)
  const how = { spreadM: 20, farthestM: 60 }
  expect(finds.proposeJoins(how)).toEqual({ added: 1, fragments: 4 })
  expect(finds.joins()).toMatchObject([{ first: a, second: b, state: 'proposed', distanceM: 4 }])
  expect(finds.joins()[0]!.reasons).toContain('4.0 m apart')
  finds.changeJoin({ first: a, second: b, state: 'rejected' })
  expect(finds.proposeJoins(how).added).toBe(0)
})

test('an own list of words is kept with its file, replaced whole, and taken back by Undo', async () => {
  const { finds, survey } = open()
  expect(finds.objectList()).toBeNull()
  const file = (name: string, text: string): string => {
    writeFileSync(path.join(path.dirname(survey.path), name), text)
    return path.join(path.dirname(survey.path), name)
  }
  const first = file('a.csv', 'term,code,broader\nDress fitting,10,\nBuckle,11,10\n')
  expect(await finds.takeObjectList('a.csv', first)).toEqual({ terms: 2, faults: [] })
  const buckle = { key: 'own:11', name: 'Buckle', otherNames: [], broader: 'own:10' }
  expect(finds.objectList()).toEqual({ file: 'a.csv', terms: [expect.anything(), buckle] })
  await finds.takeObjectList('b.csv', file('b.csv', 'pin\nring\n'))
  expect(finds.objectList()?.terms.map(({ name }) => name)).toEqual(['pin', 'ring'])
  expect(survey.undo()).toBe('list of words b.csv')
  expect(finds.objectList()?.terms.map(({ name }) => name)).toEqual(['Dress fitting', 'Buckle'])
  finds.dropObjectList()
  expect(finds.objectList()).toBeNull()
  await expect(finds.takeObjectList('c.csv', file('c.csv', 'a,b\n1,2\n'))).rejects.toEqual(
    coded('missing-columns'),
  )
  expect(survey.check()).toEqual([])
})

test('finds joined by hand are one group, by the nearest pairs; parted they are none, and Undo joins them again', () => {
  const { finds, survey } = open()
  const at = (easting: number) =>
    finds.add({ record: {}, place: { easting: 557_800 + easting, northing: 347_000 } }).id
  const [a, b, c] = [at(0), at(90), at(10)]
  const accepted = () => finds.joins().filter(({ state }) => state === 'accepted')
  finds.joinTogether([a!, b!, c!])
  expect(accepted().map(({ first, second, reasons }) => [[first, second].sort(), reasons])).toEqual([
    [[a, c], ['joined by hand']],
    [[b, c], ['joined by hand']],
  ])
  expect(accepted().map(({ distanceM }) => Math.round(distanceM!))).toEqual([10, 80])
  const steps = survey.undoable()
  finds.joinTogether([a!, b!])
  expect(accepted()).toHaveLength(3)
  finds.joinTogether([c!, b!, a!])
  expect(accepted()).toHaveLength(3)
  finds.part([a!, b!, c!])
  expect(accepted()).toHaveLength(0)
  expect(survey.undo()).toBe('parting of 3 finds')
  expect(accepted()).toHaveLength(3)
  expect(steps).toBe('joining of 3 finds')
  expect(() => finds.joinTogether([a!, a!])).toThrow('cannot be joined to itself')
  expect(() => finds.changeJoin({ first: a!, second: a!, state: 'accepted' })).toThrow(
    'cannot be joined to itself',
  )
})

test('check tells of photographs that are gone or changed', async () => {
  const { finds, survey } = open()
  const { id } = finds.add({ record: {} })
  await finds.addPhotograph(id, 'a.jpg', 'obverse', await picture('a.jpg'))
  await finds.addPhotograph(id, 'b.jpg', 'reverse', await picture('b.jpg', '#224488'))
  expect(checkPhotographs(survey)).toEqual([])
  const folder = photographsFolder(survey.path)
  const file = path.join(folder, 'b.jpg')
  const bytes = readFileSync(file)
  bytes[bytes.length >> 1]! ^= 1
  writeFileSync(file, bytes)
  rmSync(path.join(folder, 'a.jpg'))
  expect(checkPhotographs(survey).map(({ code }) => code)).toEqual(['missing', 'changed'])
})
