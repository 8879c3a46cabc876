import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { createSurveyFile, openSurveyFile } from '#store'
import {
  folderForTest,
  newSurvey,
  noContent,
  original,
  sampleContent,
  square,
  steadySurroundings,
} from './sample.ts'

const fixture = (name: string) =>
  new URL(`../../fixtures/store/other-geopackages/${name}`, import.meta.url).pathname
const open = (path: string, readOnly = false) => openSurveyFile(path, steadySurroundings(), { readOnly })
const start = { code: 'NST', title: 'Ninestile Farm', demo: false }
const fault = (code: string) => expect.objectContaining({ name: 'SurveyError', code })

describe('files that are no surveys are told apart', () => {
  const folder = () => folderForTest()

  test('nothing there', () => {
    const path = join(folder(), 'nowhere.gpkg')
    expect(() => open(path)).toThrow(fault('survey-missing'))
    expect(existsSync(path)).toBe(false)
  })

  test('an empty file, a folder, text, and any junk', () => {
    const path = join(folder(), 'a.gpkg')
    expect(() => open(folder())).toThrow(/a folder/)
    writeFileSync(path, '')
    expect(() => open(path)).toThrow(/a\.gpkg is not a survey: it is empty/)
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 4096 }), (junk) => {
        writeFileSync(path, junk)
        expect(() => open(path)).toThrow(fault('not-a-survey'))
      }),
      { numRuns: 30 },
    )
  })

  test('the right first bytes and then junk', () => {
    const path = join(folder(), 'a.gpkg')
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 4096 }), (junk) => {
        writeFileSync(path, Buffer.concat([Buffer.from('SQLite format 3\0'), junk]))
        expect(() => open(path)).toThrow(expect.objectContaining({ name: 'SurveyError' }))
      }),
      { numRuns: 30 },
    )
  })

  test('a plain SQLite database, which stays as it was', () => {
    const path = join(folder(), 'a.gpkg')
    const db = new DatabaseSync(path)
    db.exec('CREATE TABLE survey (id INTEGER PRIMARY KEY)')
    db.close()
    const bytes = readFileSync(path)
    expect(() => open(path)).toThrow(/an SQLite database but not a GeoPackage/)
    expect(readFileSync(path).equals(bytes)).toBe(true)
  })

  test.each(['gdal.gpkg', 'empty.gpkg'])(
    'a GeoPackage of another program (%s), which stays as it was',
    (name) => {
      const path = join(folder(), name)
      copyFileSync(fixture(name), path)
      expect(() => open(path)).toThrow(fault('not-a-survey'))
      expect(() => open(path)).toThrow(/is a GeoPackage but not a survey/)
      expect(readFileSync(path).equals(readFileSync(fixture(name)))).toBe(true)
    },
  )

  test('a survey of a later version', () => {
    const survey = newSurvey()
    survey.close()
    const db = new DatabaseSync(survey.path)
    db.exec("INSERT INTO migrations (name, applied_at) VALUES ('0999-moonlight', '2030-01-01T00:00:00Z')")
    db.close()
    expect(() => open(survey.path)).toThrow(fault('newer-survey'))
    expect(() => open(survey.path)).toThrow(/0999-moonlight.*update Lynchet/)
  })

  test('a survey that lost a layer', () => {
    const survey = newSurvey()
    survey.close()
    const db = new DatabaseSync(survey.path)
    db.exec('DROP TABLE gaps')
    db.close()
    expect(() => open(survey.path)).toThrow(fault('survey-damaged'))
  })

  test('a survey whose pages were overwritten', () => {
    const survey = newSurvey()
    for (let i = 0; i < 20; i++) survey.addFile(original(`${i}.gpx`), sampleContent())
    survey.close()
    const bytes = readFileSync(survey.path)
    bytes.fill(0xab, 16_384, bytes.length)
    writeFileSync(survey.path, bytes)
    expect(() => open(survey.path)).toThrow(fault('survey-damaged'))
  })
})

describe('making a survey', () => {
  test('never over another file', () => {
    const survey = newSurvey()
    survey.close()
    const bytes = readFileSync(survey.path)
    expect(() => createSurveyFile(survey.path, start, steadySurroundings())).toThrow(fault('survey-exists'))
    expect(readFileSync(survey.path).equals(bytes)).toBe(true)
  })

  test('not in a folder that is not there', () => {
    const path = join(folderForTest(), 'no', 'nst.gpkg')
    expect(() => createSurveyFile(path, start, steadySurroundings())).toThrow(fault('cannot-write'))
  })

  test('not under a malformed code, which is a wrong call', () => {
    const path = join(folderForTest(), 'nst.gpkg')
    expect(() => createSurveyFile(path, { ...start, code: 'nst' }, steadySurroundings())).toThrow(RangeError)
    expect(existsSync(path)).toBe(false)
  })

  test('leaves nothing behind when it fails half-way', () => {
    const path = join(folderForTest(), 'nst.gpkg')
    const failing = {
      ...steadySurroundings(),
      uuid: () => {
        throw new RangeError('no UUID')
      },
    }
    expect(() => createSurveyFile(path, start, failing)).toThrow('no UUID')
    expect(readdirSync(join(path, '..'))).toEqual([])
  })
})

test('a survey opened for reading only refuses every change', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), sampleContent())
  const reader = open(survey.path, true)
  expect(reader.readOnly).toBe(true)
  const edit = { name: 'A', polygons: [square(0, 53)], given: null }
  const calls = [
    () => reader.setGrid(27700),
    () => reader.changeSettings({ a: 1 }),
    () => reader.addFile(original('b.gpx'), noContent),
    () => reader.addArea(edit),
    () => reader.changeArea(1, edit),
    () => reader.removeArea(1),
    () => reader.undo(),
  ]
  for (const call of calls) expect(call).toThrow(fault('survey-read-only'))
  expect(reader.tracks()).toEqual(survey.tracks())
  reader.close()
})
