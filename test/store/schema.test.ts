import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { gunzipSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { openSurveyFile } from '#store'
import { schemaOf } from '../../fixtures/store/schema/make.ts'
import { folderForTest, newSurvey, noContent, original, steadySurroundings } from './sample.ts'

const fixtures = join(import.meta.dirname, '../../fixtures/store')

test('the schema of a new survey is the one committed', () => {
  const survey = newSurvey()
  expect(schemaOf(survey.path)).toBe(readFileSync(join(fixtures, 'schema/golden.sql'), 'utf8'))
})

describe('surveys of earlier versions', () => {
  const old = readdirSync(join(fixtures, 'old-surveys')).filter((name) => name.endsWith('.gpkg.gz'))

  test.each(old)('%s opens with all that it holds, has the schema of today, and takes new work', (name) => {
    const path = join(folderForTest(), 'old.gpkg')
    writeFileSync(path, gunzipSync(readFileSync(join(fixtures, 'old-surveys', name))))
    const survey = openSurveyFile(path, steadySurroundings())
    expect(survey.check()).toEqual([])
    expect(schemaOf(path)).toBe(readFileSync(join(fixtures, 'schema/golden.sql'), 'utf8'))
    expect(survey.identity()).toMatchObject({
      code: 'NST',
      title: 'Ninestile Farm',
      demo: true,
      gridEpsg: 27700,
    })
    expect(survey.counts()).toEqual({ areas: 1, tracks: 1, fixes: 3, findspots: 1, finds: 1 })
    expect(survey.track(1)).toMatchObject({
      name: 'morning',
      xy: Float64Array.of(0.35, 53.01, 0.3501, 53.0101, 0.36, 53.02),
      segmentStart: Uint32Array.of(0, 2),
      hdop: Float64Array.of(0.9, 1.1, 2),
      extras: [{ name: 'sat', at: [0, 2], text: ['9', '8'] }],
    })
    expect(survey.findspots()).toMatchObject([
      { note: 'beside the droveway', finds: [{ number: 'NST-2023-001', weightG: 4.25 }] },
    ])
    expect(survey.settings()).toEqual({ swathM: 1.5 })
    expect(survey.undoable()).toBe('change of settings')
    survey.addFile(original('new.gpx'), noContent)
    expect(survey.undo()).toBe('import of new.gpx')
    survey.close()
  })
})

test('other programs are told of every table: as a layer, as attributes, or as an extension', () => {
  const survey = newSurvey()
  const db = new DatabaseSync(survey.path, { readOnly: true })
  const names = (statement: string) =>
    db
      .prepare(statement)
      .all()
      .map((row) => String(row.name))
  const known = new Set([
    ...names('SELECT table_name AS name FROM gpkg_contents'),
    ...names('SELECT table_name AS name FROM gpkg_extensions'),
  ])
  const tables = names("SELECT name FROM sqlite_master WHERE type = 'table'").filter(
    (name) => !/^(gpkg|rtree|sqlite)_/.test(name),
  )
  db.close()
  expect(tables.filter((name) => !known.has(name))).toEqual([])
})

test('each table and column has its place in the reference', () => {
  const survey = newSurvey()
  const page = readFileSync(join(import.meta.dirname, '../../docs/reference/survey-file.md'), 'utf8')
  const db = new DatabaseSync(survey.path, { readOnly: true })
  const columns = db
    .prepare(
      "SELECT t.name AS name, c.name AS column FROM sqlite_master t JOIN pragma_table_info(t.name) c WHERE t.type = 'table'",
    )
    .all()
    .filter((row) => !/^(gpkg|rtree|sqlite)_/.test(String(row.name)))
  db.close()
  for (const { name, column } of columns) {
    const part = page.split('\n## ').find((section) => section.startsWith(`\`${name}\``))
    expect(part, `a heading for ${name}`).toBeDefined()
    expect(part, `${name}.${column}`).toContain(`\`${column}\``)
  }
})
