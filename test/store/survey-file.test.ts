import { rmSync, statSync } from 'node:fs'
import { DatabaseSync } from 'node:sqlite'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { RecordedTrack } from '#core/record'
import { openSurveyFile, type PlacedArea } from '#store'
import {
  findspot,
  newSurvey,
  noContent,
  original,
  sampleContent,
  square,
  steadySurroundings,
  track,
  userRows,
} from './sample.ts'

describe('a new survey', () => {
  test('says who it is and is empty', () => {
    const survey = newSurvey()
    expect(survey.identity()).toEqual({
      uuid: expect.stringMatching(/^[0-9a-f-]{36}$/),
      code: 'NST',
      title: 'Ninestile Farm',
      demo: false,
      gridEpsg: null,
      createdAt: Date.UTC(2026, 2, 14, 10) / 1000,
    })
    expect(survey.counts()).toEqual({ areas: 0, tracks: 0, fixes: 0, findspots: 0, finds: 0 })
    expect([survey.bounds(), survey.undoable(), survey.undo(), survey.latestCover()]).toEqual([
      null,
      null,
      null,
      null,
    ])
    expect(survey.check()).toEqual([])
  })

  test('is a GeoPackage 1.3 in write-ahead mode', () => {
    const survey = newSurvey()
    const db = new DatabaseSync(survey.path, { readOnly: true })
    expect(db.prepare('PRAGMA application_id').get()).toEqual({ application_id: 0x47504b47 })
    expect(db.prepare('PRAGMA user_version').get()).toEqual({ user_version: 10_300 })
    expect(db.prepare('PRAGMA journal_mode').get()).toEqual({ journal_mode: 'wal' })
    db.close()
  })

  test('takes its grid once', () => {
    const survey = newSurvey()
    survey.setGrid(27700)
    survey.setGrid(27700)
    expect(survey.identity().gridEpsg).toBe(27700)
    expect(() => survey.setGrid(32630)).toThrow(expect.objectContaining({ code: 'mixed-grids' }))
  })
})

describe('files brought in', () => {
  test('are all there after closing and opening', () => {
    const survey = newSurvey()
    const reply = survey.addFile(original('walk.gpx'), sampleContent())
    expect(reply).toEqual({
      originalId: 1,
      alreadyThere: false,
      added: { tracks: 1, fixes: 4, findspots: 2, areas: 1, finds: 1 },
      renumbered: [],
    })
    survey.close()
    const again = openSurveyFile(survey.path, steadySurroundings())
    expect(again.identity().gridEpsg).toBe(27700)
    expect(again.counts()).toEqual(reply.added)
    expect(again.tracks()).toEqual([
      {
        id: 1,
        uuid: expect.any(String),
        originalName: 'walk.gpx',
        name: 'North strip, morning',
        visitId: 1,
        walked: true,
        fixes: 4,
        start: 1_700_000_000,
        end: 1_700_000_002,
      },
    ])
    expect(again.track(1)).toEqual({ id: 1, uuid: expect.any(String), given: null, problems: [], ...track() })
    const [area] = again.areas()
    expect(area).toMatchObject({
      name: 'North strip',
      originalName: 'walk.gpx',
      attributes: { crop: 'stubble' },
      given: null,
    })
    expect(area!.polygons).toEqual([square(0.35, 53.01)])
    const { find, x, y, epsg, ...recorded } = findspot('A').recorded
    expect(again.findspots()[0]).toEqual({
      id: 1,
      uuid: expect.any(String),
      originalName: 'walk.gpx',
      ...recorded,
      lon: x,
      lat: y,
      planar: findspot('A').planar,
      visitId: 1,
      finds: [
        {
          ...find,
          id: 1,
          uuid: expect.any(String),
          findspotId: 1,
          number: 'NST-2023-001',
          givenNumber: null,
        },
      ],
    })
    expect(new TextDecoder().decode(again.originalBytes(1))).toBe('walk.gpx')
    expect(again.check()).toEqual([])
    again.close()
  })

  test('change nothing the second time, whatever their name', () => {
    const survey = newSurvey()
    survey.addFile(original('walk.gpx', 'bytes'), sampleContent())
    const [rows, revision] = [userRows(survey.path), survey.revision()]
    const reply = survey.addFile(original('copy of walk.gpx', 'bytes'), sampleContent())
    expect(reply).toMatchObject({ originalId: 1, alreadyThere: true, added: { tracks: 0, findspots: 0 } })
    expect(userRows(survey.path)).toEqual(rows)
    expect(survey.revision()).toBe(revision)
    expect(survey.hasOriginal(original('', 'bytes').sha256)?.name).toBe('walk.gpx')
    expect(survey.hasOriginal(original('', 'other').sha256)).toBeNull()
  })

  test('leave nothing behind when a part of them is refused', () => {
    const survey = newSurvey()
    const rows = userRows(survey.path)
    const bad = { ...track(), time: Float64Array.of(1) }
    const content = {
      ...sampleContent(),
      tracks: [
        { recorded: track(), given: null },
        { recorded: bad, given: null },
      ],
    }
    expect(() => survey.addFile(original('walk.gpx'), content)).toThrow(RangeError)
    expect(userRows(survey.path)).toEqual(rows)
    expect(survey.undoable()).toBeNull()
  })

  test('keep planar positions beside, as given', () => {
    const survey = newSurvey()
    const xy = Float64Array.of(557_800, 337_600, 557_801, 337_601, 557_802, 337_602, 558_000, 338_000)
    const area: PlacedArea = {
      recorded: { epsg: 4326, name: null, polygons: [square(0.35, 53.01)], attributes: {} },
      given: { epsg: 27700, polygons: [square(557_800, 337_600, 100)] },
    }
    survey.addFile(original('a.csv'), {
      ...noContent,
      areas: [area],
      tracks: [{ recorded: track(), given: { epsg: 27700, xy } }],
    })
    expect(survey.areas()[0]!.given).toEqual(area.given)
    expect(survey.track(1).given).toEqual({ epsg: 27700, xy })
    const db = new DatabaseSync(survey.path, { readOnly: true })
    expect(db.prepare('SELECT srs_name FROM gpkg_spatial_ref_sys WHERE srs_id = 27700').get()).toEqual({
      srs_name: 'OSGB36 / British National Grid',
    })
    db.close()
    const uneven = { ...area, given: { epsg: 27700, polygons: [square(0, 0), square(1, 1)] } }
    expect(() => survey.addFile(original('b.csv'), { ...noContent, areas: [uneven] })).toThrow(RangeError)
  })

  test('keep a findspot that has no position in WGS84, and check tells of it', () => {
    const survey = newSurvey()
    const lost = findspot('lost')
    const outside = { ...lost, recorded: { ...lost.recorded, x: Number.NaN, y: Number.NaN } }
    survey.addFile(original('a.csv'), { ...noContent, findspots: [outside, findspot('A')] })
    expect([survey.counts().findspots, survey.finds().length, survey.findspots().length]).toEqual([2, 2, 1])
    expect(survey.check()).toEqual([{ code: 'geometry', text: 'The findspot 1 has no position.' }])
  })

  test('keep gpkg_contents true: bounds and time of change', () => {
    const survey = newSurvey()
    survey.addFile(original('walk.gpx'), sampleContent())
    const db = new DatabaseSync(survey.path, { readOnly: true })
    const listed = () => ({ ...db.prepare("SELECT * FROM gpkg_contents WHERE table_name = 'tracks'").get() })
    expect(listed()).toMatchObject({
      min_x: 0.35,
      min_y: 53.01,
      max_x: 0.36,
      max_y: 53.02,
      last_change: '2026-03-14T10:00:01.000Z',
    })
    survey.undo()
    expect(listed()).toMatchObject({ min_x: null, max_y: null, last_change: '2026-03-14T10:00:02.000Z' })
    db.close()
  })
})

const anyTrack: fc.Arbitrary<RecordedTrack> = fc
  .tuple(
    fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 4 }),
    fc.boolean(),
    fc.option(fc.string({ unit: 'binary' })),
    fc.dictionary(fc.string(), fc.string({ unit: 'grapheme' })),
    fc.infiniteStream(fc.double({ min: -90, max: 90, noNaN: true })),
    fc.array(fc.nat(20), { maxLength: 8 }),
  )
  .map(([lengths, walked, name, attributes, numbers, at]) => {
    const fixes = lengths.reduce((sum, length) => sum + length, 0)
    const series = () =>
      fixes === 0 ? null : Float64Array.from({ length: fixes }, () => numbers.next().value)
    const marked = [...new Set(at.filter((i) => i < fixes))].toSorted((a, b) => a - b)
    return {
      epsg: 4326,
      name,
      walked,
      xy: Float64Array.from({ length: fixes * 2 }, () => numbers.next().value),
      segmentStart: Uint32Array.from(lengths, (_, s) =>
        lengths.slice(0, s).reduce((sum, length) => sum + length, 0),
      ),
      time: series(),
      elevation: series(),
      hdop: series(),
      extras: marked.length === 0 ? [] : [{ name: 'sat', at: marked, text: marked.map(String) }],
      attributes,
    }
  })

test('any track comes back as it was recorded', () => {
  const survey = newSurvey()
  let n = 0
  fc.assert(
    fc.property(anyTrack, (recorded) => {
      survey.addFile(original(`${n++}.gpx`), { ...noContent, tracks: [{ recorded, given: null }] })
      const { id, uuid, given, problems, ...stored } = survey.track(n)
      expect(stored).toEqual(recorded)
      expect([uuid.length, given, problems]).toEqual([36, null, []])
    }),
  )
  expect(survey.check()).toEqual([])
})

describe('areas', () => {
  test('are drawn, changed and removed', () => {
    const survey = newSurvey()
    const drawn = survey.addArea({ name: 'Gorse', polygons: [square(0, 53)], given: null, gridEpsg: 27700 })
    expect(survey.identity().gridEpsg).toBe(27700)
    const given = { epsg: 27700, polygons: [square(5, 5)] }
    const changed = survey.changeArea(drawn.id, { name: 'Gorse field', polygons: [square(1, 53)], given })
    expect(changed).toMatchObject({ id: drawn.id, uuid: drawn.uuid, name: 'Gorse field', given })
    expect(survey.bounds()!.minX).toBeCloseTo(1, 5)
    survey.removeArea(drawn.id)
    expect(survey.areas()).toEqual([])
    for (const call of [
      () => survey.removeArea(1),
      () => survey.changeArea(9, { name: null, polygons: [], given: null }),
    ]) {
      expect(call).toThrow(expect.objectContaining({ code: 'not-found' }))
    }
    expect(survey.check()).toEqual([])
  })
})

describe('settings', () => {
  test('are JSON by key, and only differences are changes', () => {
    const survey = newSurvey()
    expect(survey.changeSettings({ swathM: 1.5, cellM: null, view: { zoom: [1, 2] } })).toEqual({
      cellM: null,
      swathM: 1.5,
      view: { zoom: [1, 2] },
    })
    const revision = survey.revision()
    survey.changeSettings({ swathM: 1.5 })
    expect(survey.revision()).toBe(revision)
    expect(survey.changeSettings({ view: undefined })).toEqual({ cellM: null, swathM: 1.5 })
    expect(survey.undo()).toBe('change of settings')
    expect(survey.settings()).toMatchObject({ view: { zoom: [1, 2] } })
  })
})

describe('the cover', () => {
  const cover = (id: string, gaps: number) => ({
    id,
    settings: { swathM: 1.5 },
    figures: { coveredShare: 0.68 },
    frame: { rows: 3 },
    passes: Uint8Array.of(1, 2, 3),
    groundRevision: 7,
    gaps: Array.from({ length: gaps }, (_, i) => ({ areaM2: i + 0.5, polygon: square(i / 10, 53) })),
  })

  test('is kept with its gaps in place of the last, and is no change of user data', () => {
    const survey = newSurvey()
    const revision = survey.revision()
    survey.saveCover(cover('first', 3))
    survey.saveCover(cover('second', 2))
    const { passes, gaps, ...kept } = cover('second', 2)
    expect(survey.latestCover()).toEqual({ ...kept, madeAt: expect.any(Number) })
    expect(survey.coverPasses('second')).toEqual(passes)
    expect(survey.coverPasses('first')).toBeNull()
    expect(survey.gaps()).toEqual(gaps.map((gap, i) => ({ id: expect.any(Number), ...gap, areaM2: i + 0.5 })))
    expect([survey.revision(), survey.undoable()]).toEqual([revision, null])
    expect(survey.check()).toEqual([])
  })
})

describe('revisions', () => {
  test('rise with each change; the ground one with tracks, areas and settings only', () => {
    const survey = newSurvey()
    const steps: [number, number][] = []
    const note = () => steps.push([survey.revision(), survey.groundRevision()])
    note()
    survey.addFile(original('a.csv'), { ...noContent, findspots: [findspot('A')] })
    note()
    survey.addArea({ name: 'A', polygons: [square(0, 53)], given: null })
    note()
    survey.changeSettings({ swathM: 2 })
    note()
    survey.undo()
    note()
    expect(steps.map(([all]) => all - steps[0]![0])).toEqual([0, 1, 2, 3, 4])
    expect(steps.map(([, ground]) => ground - steps[0]![1])).toEqual([0, 0, 1, 2, 3])
  })
})

test('a closed survey leaves one file', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), sampleContent())
  survey.close()
  for (const end of ['-wal', '-shm'])
    expect(statSync(survey.path + end, { throwIfNoEntry: false })).toBeUndefined()
  rmSync(survey.path)
})
