import { DatabaseSync } from 'node:sqlite'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { certainties, completenesses, damageKinds, type FindRecord, numberedFind } from '#core/finds'
import { type FindToAdd, openSurveyFile, type PhotographToAdd, type SurveyFile } from '#store'
import { findspot, newSurvey, noContent, original, steadySurroundings, userRows } from './sample.ts'

const spot = findspot('by hand', null)
const bare = (record: Partial<FindRecord> = {}): FindToAdd => ({ record, foundAt: null })
const numbers = (survey: SurveyFile) => survey.catalogue.all().map(({ record }) => record.number)

const photograph: PhotographToAdd = {
  role: 'obverse',
  note: null,
  mmPerPixel: null,
  scaleLine: null,
  name: 'a.jpg',
  path: '/pictures/a.jpg',
  relativePath: 'pictures/a.jpg',
  sha256: 'b'.repeat(64),
  size: 12,
  width: 40,
  height: 30,
  orientation: 6,
  takenAt: '2026-11-25T10:15:00',
  exif: Uint8Array.of(1, 2, 3),
  thumbnail: Uint8Array.of(4, 5),
}

const line = fc.string({ minLength: 1 })
const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: null })
const amount = maybe(fc.double({ min: 1e-3, max: 1e4, noNaN: true }))
/** Not a semicolon: it parts one material from the next in the text for people. */
const word = fc.record({ text: line, term: maybe(fc.stringMatching(/^fish:\d{1,6}$/)) })
const record: fc.Arbitrary<Omit<FindRecord, 'number' | 'findspot'>> = fc.record({
  visit: maybe(fc.uuid()),
  finder: maybe(line),
  depthCm: maybe(fc.integer({ min: 0, max: 1000 })),
  lay: maybe(line),
  signalNote: maybe(line),
  objectType: maybe(word),
  materials: fc.array(
    word.filter(({ text }) => text.trim() !== ''),
    { maxLength: 3 },
  ),
  period: maybe(word),
  fromYear: maybe(fc.integer({ min: -900_000, max: 2026 })),
  toYear: maybe(fc.integer({ min: -900_000, max: 2026 })),
  certainty: maybe(fc.constantFrom(...certainties)),
  count: maybe(fc.integer({ min: 1, max: 999 })),
  completeness: maybe(fc.constantFrom(...completenesses)),
  weightG: amount,
  lengthMm: amount,
  widthMm: amount,
  thicknessMm: amount,
  diameterMm: amount,
  dieAxisH: amount,
  condition: maybe(line),
  surface: maybe(line),
  damage: fc.subarray([...damageKinds]),
  decoration: maybe(line),
  description: maybe(line),
  parallels: fc.array(line, { maxLength: 3 }),
  conservation: maybe(line),
  warnings: fc.array(line, { maxLength: 3 }),
  whereNow: maybe(line),
  notes: maybe(line),
})

describe('the catalogue', () => {
  test('any record comes back as it was written, and a change changes what it names', () => {
    const survey = newSurvey()
    fc.assert(
      fc.property(record, record, (first, second) => {
        const [added] = survey.catalogue.add([bare(first)], 'quick entry')
        const { number } = added!.record
        expect(added!.record).toEqual({ ...numberedFind(number), ...first })
        survey.catalogue.change([{ id: added!.id, patch: second }], 'change')
        expect(survey.catalogue.one(added!.id).record).toEqual({ ...numberedFind(number), ...second })
        expect(survey.undo()).not.toBeNull()
      }),
      { numRuns: 60 },
    )
    expect(survey.check()).toEqual([])
  })

  test('a find with only a number, one with a place, and one at a findspot that is there', () => {
    const survey = newSurvey()
    const [first] = survey.catalogue.add([{ record: {}, foundAt: spot }], 'quick entry')
    expect(first).toMatchObject({
      record: { ...numberedFind('NST-2023-001'), findspot: expect.any(String) },
      foundAt: { lon: 0.351, lat: 53.0123, accuracyM: 3, planar: { easting: 557_800.25, epsg: 27700 } },
      photographs: 0,
    })
    expect(survey.identity().gridEpsg).toBe(27700)
    const again = survey.catalogue.add([bare({ findspot: first!.foundAt!.uuid }), bare()], 'two more')
    expect(again.map((find) => [find.record.number, find.foundAt?.id ?? null])).toEqual([
      ['NST-2023-002', first!.foundAt!.id],
      ['NST-2026-001', null],
    ])
    expect(survey.findspots()).toMatchObject([{ finds: [{ object: '', count: 1 }, {}] }])
  })

  test('moving one of two finds of a findspot leaves the other where it is; moving both moves the rows', () => {
    const survey = newSurvey()
    const [first] = survey.catalogue.add([{ record: {}, foundAt: spot }], 'quick entry')
    const [second] = survey.catalogue.add([bare({ findspot: first!.foundAt!.uuid })], 'one more')
    const moved = { ...spot, recorded: { ...spot.recorded, x: 0.36 } }
    survey.catalogue.change([{ id: second!.id, patch: {}, foundAt: moved }], 'move')
    expect(survey.catalogue.all().map((find) => find.foundAt?.lon)).toEqual([0.351, 0.36])
    survey.catalogue.change([{ id: first!.id, patch: {}, foundAt: moved }], 'move')
    expect(survey.findspots().map(({ lon }) => lon)).toEqual([0.36, 0.36])
    expect(survey.check()).toEqual([])
  })

  test('materials that another program writes anew are believed over the words kept beside', () => {
    const survey = newSurvey()
    const coded = [
      { text: 'copper alloy', term: 'fish:75339' },
      { text: 'gold', term: null },
    ]
    const [find] = survey.catalogue.add([bare({ materials: coded })], 'quick entry')
    const db = new DatabaseSync(survey.path)
    expect(db.prepare('SELECT material FROM finds').get()).toEqual({ material: 'copper alloy; gold' })
    db.exec("UPDATE finds SET material = 'lead; iron'")
    db.close()
    expect(survey.catalogue.one(find!.id).record.materials).toEqual([
      { text: 'lead', term: null },
      { text: 'iron', term: null },
    ])
    expect(survey.catalogue.changes(find!.id).at(-1)).toMatchObject({ by: null, change: 'update' })
  })

  test('what is not there is said', () => {
    const { catalogue } = newSurvey()
    const gone = expect.objectContaining({ code: 'not-found' })
    for (const ask of [
      () => catalogue.one(7),
      () => catalogue.change([{ id: 7, patch: {} }], ''),
      () => catalogue.remove([7], ''),
      () => catalogue.events(7),
      () => catalogue.photograph(7),
      () => catalogue.thumbnail(7),
      () => catalogue.add([bare({ findspot: 'none' })], ''),
    ])
      expect(ask).toThrow(gone)
    expect(catalogue.withNumber('NST-2026-001')).toBeNull()
  })
})

describe('numbers', () => {
  test('typed ones are kept, fresh ones go round them, and no two bags have one', () => {
    const { catalogue } = newSurvey()
    catalogue.add([bare(), bare({ number: 'NST-2026-002' }), bare()], 'entry')
    expect(catalogue.all().map(({ record: { number } }) => number)).toEqual([
      'NST-2026-003',
      'NST-2026-002',
      'NST-2026-004',
    ])
    const taken = expect.objectContaining({ code: 'number-taken' })
    expect(() => catalogue.add([bare({ number: 'NST-2026-003' })], '')).toThrow(taken)
    expect(() => catalogue.add([bare({ number: 'C4' })], '')).toThrow(taken)
    expect(() =>
      catalogue.add([bare({ number: 'NST-2026-009' }), bare({ number: 'NST-2026-009' })], ''),
    ).toThrow(taken)
    expect(() => catalogue.change([{ id: 1, patch: { number: 'NST-2026-002' } }], '')).toThrow(taken)
    expect(catalogue.all()).toHaveLength(3)
  })

  test('of removed finds and of labels are not given out again, and it is known why', () => {
    const survey = newSurvey()
    const { catalogue } = survey
    const [first] = catalogue.add([bare(), bare()], 'entry')
    catalogue.remove([first!.id], 'removal of NST-2026-001')
    expect(catalogue.reserve(2026, 2, 'for the north strip')).toEqual(['NST-2026-003', 'NST-2026-004'])
    catalogue.add([bare()], 'entry')
    expect(numbers(survey)).toEqual(['NST-2026-002', 'NST-2026-005'])
    expect(catalogue.lastNumbers()).toEqual(new Map([[2026, 5]]))
    expect(catalogue.lostNumbers().get('NST-2026-001')?.what).toBe('removal of NST-2026-001')
    catalogue.add([bare({ number: 'NST-2026-004' })], 'from the label')
    catalogue.noteNumber('NST-2026-003', 'void', 'label lost')
    expect(catalogue.numberNotes()).toMatchObject([
      { number: 'NST-2026-003', state: 'void', note: 'label lost' },
    ])
    survey.undo()
    survey.undo()
    expect(catalogue.numberNotes().map(({ state }) => state)).toEqual(['label', 'label'])
    expect(catalogue.reserve(2026, 1, null)).toEqual(['NST-2026-006'])
  })

  test('are unique whatever two open desks do by turns', () => {
    const step = fc.record({
      desk: fc.nat(1),
      act: fc.constantFrom('add', 'add two', 'reserve', 'undo', 'file'),
    })
    fc.assert(
      fc.property(fc.array(step, { maxLength: 15 }), (steps) => {
        const one = newSurvey()
        const two = openSurveyFile(one.path, steadySurroundings('Ben', 1))
        const given: string[] = []
        for (const [i, { desk, act }] of steps.entries()) {
          const survey = [one, two][desk]!
          const { catalogue } = survey
          if (act === 'reserve') given.push(...catalogue.reserve(2026, 2, null))
          else if (act === 'undo') survey.undo()
          else if (act === 'file')
            survey.addFile(original(`${i}`), { ...noContent, findspots: [findspot('x', { number: null })] })
          else {
            const made = catalogue.add(act === 'add' ? [bare()] : [bare(), bare()], 'entry')
            given.push(...made.map(({ record: { number } }) => number))
          }
        }
        expect(new Set(given).size).toBe(given.length)
        const borne = numbers(one)
        expect(new Set(borne).size).toBe(borne.length)
        two.close()
        one.close()
      }),
      { numRuns: 10 },
    )
  })
})

describe('history', () => {
  test('is added to, tells when and by whom, and no program changes it', () => {
    const survey = newSurvey()
    const { catalogue } = survey
    const [find, other] = catalogue.add([bare(), bare()], 'entry')
    const event = { kind: 'cleaned', happenedOn: '2026-03-15', who: 'Ann', note: 'water only' }
    catalogue.addEvent([find!.id, other!.id], event, 'cleaned')
    catalogue.addEvent([find!.id], { ...event, kind: 'weighed' }, 'weighed')
    expect(catalogue.events(find!.id)).toMatchObject([
      { ...event, recordedBy: 'Ann', recordedAt: expect.any(Number) },
      { kind: 'weighed' },
    ])
    expect(catalogue.withEvent('weighed')).toEqual(new Set([find!.uuid]))
    const db = new DatabaseSync(survey.path)
    for (const change of ["UPDATE find_events SET who = 'x'", 'DELETE FROM find_events'])
      expect(() => db.exec(change)).toThrow('never changed')
    db.close()
    survey.undo()
    expect(catalogue.events(find!.id)).toHaveLength(1)
    expect(catalogue.events(other!.id)).toHaveLength(1)
  })

  test('of the record itself is what the journal has', () => {
    const survey = newSurvey()
    const { catalogue } = survey
    const [find] = catalogue.add([bare({ weightG: 4 })], 'entry of a find')
    catalogue.change([{ id: find!.id, patch: { weightG: 4.5 } }], 'weight')
    catalogue.change([{ id: find!.id, patch: { weightG: 4.5 } }], 'nothing new')
    survey.undo()
    expect(catalogue.changes(find!.id)).toMatchObject([
      { what: 'entry of a find', change: 'insert', by: 'Ann', after: { weight_g: 4 } },
      { what: 'weight', before: { weight_g: 4 }, after: { weight_g: 4.5 } },
      { what: 'undo of weight', after: { weight_g: 4 } },
    ])
  })
})

describe('photographs and joins', () => {
  test('a photograph is kept by reference or inside, measured, and taken back', () => {
    const survey = newSurvey()
    const { catalogue } = survey
    const [find] = catalogue.add([bare()], 'entry')
    const outside = catalogue.addPhotograph(find!.id, photograph, null)
    const inside = catalogue.addPhotograph(
      find!.id,
      { ...photograph, role: 'reverse', path: null, relativePath: null },
      original('a.jpg'),
    )
    const { exif: _, thumbnail, ...facts } = photograph
    expect(outside).toMatchObject({ ...facts, originalId: null, findUuid: find!.uuid })
    expect(inside.originalId).toBe(survey.originals()[0]!.id)
    expect(catalogue.thumbnail(outside.id)).toEqual(thumbnail)
    expect(catalogue.photographsWith(photograph.sha256)).toHaveLength(2)
    expect(catalogue.one(find!.id).photographs).toBe(2)
    const scaleLine = [1, 2, 301, 2, 30] as const
    expect(catalogue.changePhotograph(outside.id, { mmPerPixel: 0.1, scaleLine })).toMatchObject({
      mmPerPixel: 0.1,
      scaleLine,
    })
    const before = userRows(survey.path)
    catalogue.removePhotograph(outside.id)
    catalogue.remove([find!.id], 'removal')
    survey.undo()
    survey.undo()
    expect(userRows(survey.path)).toEqual(before)
  })

  test('a pair is joined once, its state changes, and it goes with its find', () => {
    const survey = newSurvey()
    const { catalogue } = survey
    const [a, b] = catalogue.add([bare(), bare()], 'entry').map(({ id }) => id) as [number, number]
    const join = {
      first: a,
      second: b,
      state: 'proposed',
      score: 0.7,
      reasons: ['same metal'],
      note: null,
    } as const
    catalogue.writeJoins([join], 'joins looked for')
    catalogue.writeJoins([{ ...join, first: b, second: a, state: 'accepted' }], 'join accepted')
    expect(catalogue.joins()).toMatchObject([{ state: 'accepted', score: 0.7, reasons: ['same metal'] }])
    catalogue.remove([a], 'removal')
    expect(catalogue.joins()).toEqual([])
    survey.undo()
    expect(catalogue.joins()).toHaveLength(1)
    expect(() => catalogue.writeJoins([{ ...join, second: a }], '')).toThrow(RangeError)
    expect(survey.check()).toEqual([])
  })
})
