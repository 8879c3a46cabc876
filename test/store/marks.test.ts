import { expect, test } from 'vitest'
import { openSurveyFile } from '#store'
import { otherProgram } from './other-program.ts'
import { newSurvey, ring, square, steadySurroundings, userRows } from './sample.ts'

const line = { type: 'line', xy: Float64Array.of(0.35, 53.01, 0.351, 53.011, 0.352, 53.011) } as const

function withRing() {
  const survey = newSurvey()
  const [mark] = survey.changeMarks({ add: [ring()], change: [], remove: [] }, 'search for rings')
  return { survey, mark: mark! }
}

test('marks and targets come back as they were stored, also after reopening', () => {
  const survey = newSurvey()
  const seen = {
    layerId: 8,
    layerName: 'wet summer',
    takenOn: '2024-06-20',
    view: { view: 'band', number: 2 },
    score: 0.25,
    falseAlarmsPerKm2: 3,
  }
  const facts = [
    ring({ seenAgain: [seen] }),
    ring({
      kind: 'line',
      outline: line,
      diameterM: null,
      tone: null,
      arcGaps: [],
      madeBy: 'hand',
      view: null,
    }),
  ]
  const stored = survey.changeMarks({ add: facts, change: [], remove: [] }, 'search for rings')
  expect(stored).toMatchObject(facts)
  const target = {
    name: 'Ring 1',
    note: 'ask first',
    lon: 0.35,
    lat: 53.01,
    planar: null,
    markId: stored[0]!.id,
  }
  const made = survey.addTarget(target)
  expect(made).toMatchObject(target)
  expect(survey.check()).toEqual([])
  survey.close()
  const again = openSurveyFile(survey.path, steadySurroundings())
  expect([again.marks(), again.targets()]).toEqual([stored, [made]])
  again.close()
})

test('one search is one step of Undo: what it added, changed and took away', () => {
  const { survey, mark } = withRing()
  survey.changeMarks({ add: [ring({ lon: 0.36 })], change: [], remove: [] }, 'search for rings')
  const before = userRows(survey.path)
  const [first, second] = survey.marks()
  survey.changeMarks(
    {
      add: [ring({ kind: 'pit' })],
      change: [{ id: mark.id, edit: { state: 'rejected', outline: line, arcGaps: [] } }],
      remove: [second!.id],
    },
    'search for rings on field.tif',
  )
  expect(survey.marks()).toMatchObject([
    { id: first!.id, state: 'rejected', outline: line, arcGaps: [] },
    { kind: 'pit' },
  ])
  expect(survey.undo()).toBe('search for rings on field.tif')
  expect(userRows(survey.path)).toEqual(before)
})

test('a change that changes nothing leaves no trace', () => {
  const { survey, mark } = withRing()
  const before = survey.revision()
  survey.changeMarks({ add: [], change: [{ id: mark.id, edit: ring() }], remove: [] }, 'nothing')
  expect([survey.revision(), survey.undoable()]).toEqual([before, 'search for rings'])
})

test('a target outlives its mark, and Undo ties them again', () => {
  const { survey, mark } = withRing()
  survey.addTarget({ name: 'A', note: null, lon: 0.35, lat: 53.01, planar: null, markId: mark.id })
  const before = userRows(survey.path)
  survey.removeMark(mark.id)
  expect([survey.marks(), survey.targets()[0]]).toMatchObject([[], { name: 'A', markId: null }])
  expect(survey.undo()).toBe('removal of ring 1')
  expect(userRows(survey.path)).toEqual(before)
  const changed = survey.changeTarget(1, { name: 'B', lon: 0.36 })
  expect(changed).toMatchObject({ name: 'B', lon: 0.36, lat: 53.01, markId: mark.id })
  survey.removeTarget(1)
  expect([survey.undo(), survey.undo()]).toEqual(['removal of target B', 'change of target A'])
  expect(userRows(survey.path)).toEqual(before)
})

test('what is not there is not found', () => {
  const survey = newSurvey()
  const wrong = [
    () => survey.removeMark(9),
    () => survey.changeMarks({ add: [], change: [{ id: 9, edit: {} }], remove: [] }, 'x'),
    () => survey.changeTarget(9, {}),
    () => survey.removeTarget(9),
  ]
  for (const run of wrong) expect(run).toThrow(expect.objectContaining({ code: 'not-found' }))
})

test('an outline that another program moves takes its middle with it and loses its diameter', () => {
  const { survey, mark } = withRing()
  survey.changeMarks(
    {
      add: [ring({ outline: { type: 'polygon', polygon: square(0.4, 53, 0.001) } })],
      change: [],
      remove: [],
    },
    'x',
  )
  const db = otherProgram(survey.path)
  db.exec('UPDATE marks SET geom = (SELECT geom FROM marks WHERE id = 2) WHERE id = 1')
  db.close()
  const moved = survey.marks().find(({ id }) => id === mark.id)!
  expect(moved).toMatchObject({ planar: null, diameterM: null, state: 'candidate' })
  expect([moved.lon, moved.lat]).toEqual([0.4005, 53.0005])
  expect(survey.check()).toEqual([])
})

test('what another program writes into a mark is read with care', () => {
  const { survey } = withRing()
  const db = otherProgram(survey.path)
  db.exec(
    "UPDATE marks SET kind = 'x', state = 'x', tone = 'x', arc_gaps = '[1, 2', seen_again = '[3]', made_by = 'x'",
  )
  db.exec('INSERT INTO marks (geom) SELECT geom FROM marks')
  db.close()
  expect(survey.marks()).toMatchObject([
    { kind: 'ring', state: 'candidate', tone: null, arcGaps: [], seenAgain: [], madeBy: 'hand' },
    { kind: 'ring', state: 'candidate', uuid: expect.stringMatching(/^[\da-f-]{36}$/), layerId: null },
  ])
  expect(survey.check().map(({ code }) => code)).toEqual(['json'])
})
