import { expect, onTestFinished, test } from 'vitest'
import {
  newSurvey,
  original,
  sampleContent,
  steadySurroundings,
  track,
  userRows,
} from '../../test/store/sample.ts'
import { Connection } from './connection.ts'
import { OpenSurvey } from './open-survey.ts'

const full = expect.objectContaining({ name: 'SurveyError', code: 'disk-full' })

// A limit on the number of pages makes SQLite answer as it does on a full disk (SQLITE_FULL, sqlite.org/pragma.html).
test('a full disk leaves the survey as it was, and usable', () => {
  const { path } = newSurvey()
  const on = new Connection(path, { access: 'write' })
  onTestFinished(() => on.close())
  const survey = new OpenSurvey(path, on, steadySurroundings('Ann', 1), false)
  survey.addFile(original('first.gpx'), sampleContent())
  const [rows, revision] = [userRows(path), survey.revision()]
  const used = Number(on.one('PRAGMA page_count')!.page_count)

  on.db.exec(`PRAGMA max_page_count = ${used + 4}`)
  const bytes = new Uint8Array(1_000_000)
  expect(() => survey.addFile({ ...original('big.gpx'), bytes }, sampleContent())).toThrow(full)
  const xy = Float64Array.from({ length: 200_000 }, (_, i) => (i % 2 ? 53 : 0) + i * 1e-6)
  const long = {
    ...track(),
    xy,
    time: null,
    elevation: null,
    hdop: null,
    extras: [],
    segmentStart: Uint32Array.of(0),
  }
  const content = { ...sampleContent(), tracks: [{ recorded: long, given: null }] }
  expect(() => survey.addFile(original('long.gpx'), content)).toThrow(full)
  expect([userRows(path), survey.revision()]).toEqual([rows, revision])
  expect(survey.check()).toEqual([])
  expect(survey.changeSettings({ swathM: 2 })).toEqual({ swathM: 2 })

  on.db.exec('PRAGMA max_page_count = 1000000')
  expect(survey.addFile(original('long.gpx'), content).added.fixes).toBe(100_000)
  expect(survey.check()).toEqual([])
})
