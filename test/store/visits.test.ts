import { expect, test } from 'vitest'
import { openSurveyFile, type PlacedContent } from '#store'
import { otherProgram } from './other-program.ts'
import { findspot, newSurvey, noContent, original, steadySurroundings, track } from './sample.ts'

const noon = Date.UTC(2026, 8, 12, 12) / 1000
const day = 86_400

function walkedAt(start: number): PlacedContent['tracks'][number] {
  const time = Float64Array.of(start, start + 600, start + 1200, Number.NaN)
  return { recorded: { ...track(), time }, given: null }
}

function placedFindspot(time: number | null): PlacedContent['findspots'][number] {
  const spot = findspot('A', null)
  return { ...spot, recorded: { ...spot.recorded, time } }
}

test('walked tracks go to the visit of their day, findspots to the visit of their time, in one step of Undo', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), {
    ...noContent,
    tracks: [walkedAt(noon), walkedAt(noon + day), walkedAt(noon + 3600)],
    findspots: [placedFindspot(noon + 60), placedFindspot(noon + day + 3000), placedFindspot(null)],
  })
  expect(survey.visits().map(({ id, day: on }) => [id, on])).toEqual([
    [1, '2026-09-12'],
    [2, '2026-09-13'],
  ])
  expect(survey.tracks().map(({ visitId }) => visitId)).toEqual([1, 2, 1])
  expect(survey.findspots().map(({ visitId }) => visitId)).toEqual([1, 2, null])
  expect(survey.check()).toEqual([])
  survey.undo()
  expect([survey.visits(), survey.tracks()]).toEqual([[], []])
})

test('a table of finds that came before its walk is matched when the walk comes', () => {
  const survey = newSurvey()
  survey.addFile(original('finds.csv'), { ...noContent, findspots: [placedFindspot(noon + 60)] })
  expect(survey.findspots()[0]!.visitId).toBeNull()
  survey.addFile(original('walk.gpx'), { ...noContent, tracks: [walkedAt(noon)] })
  expect(survey.findspots()[0]!.visitId).toBe(1)
  survey.undo()
  expect(survey.findspots()[0]!.visitId).toBeNull()
})

test('an edit is undone whole, leaves no trace where nothing differs, and leaves the cover as it was', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), { ...noContent, tracks: [walkedAt(noon)] })
  const [ground, revision] = [survey.groundRevision(), survey.revision()]
  const edit = { person: 'Ann', swathM: 1.4, coilM: 0.28, weather: 'dry, light wind', cutDrives: true }
  expect(survey.changeVisit(1, edit)).toMatchObject(edit)
  expect(survey.groundRevision()).toBe(ground)
  expect(survey.revision()).toBe(revision + 1)
  survey.changeVisit(1, edit)
  expect(survey.revision()).toBe(revision + 1)
  expect(survey.undo()).toBe('change of the visit of 2026-09-12')
  expect(survey.visits()[0]).toMatchObject({ person: null, swathM: null, clockOffsetS: 0, cutDrives: false })
  expect(() => survey.changeVisit(9, edit)).toThrow('There is no visit 9')
})

test('a track moved away takes an empty visit with it, and Undo brings it back', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), {
    ...noContent,
    tracks: [walkedAt(noon), walkedAt(noon + day)],
    findspots: [placedFindspot(noon + day)],
  })
  const before = [survey.visits(), survey.tracks(), survey.findspots()]
  expect(survey.moveTrack(2, 1).id).toBe(1)
  expect(survey.visits().map(({ id }) => id)).toEqual([1])
  expect(survey.findspots()[0]!.visitId).toBe(1)
  survey.undo()
  expect([survey.visits(), survey.tracks(), survey.findspots()]).toEqual(before)
  expect(survey.moveTrack(1, null)).toMatchObject({ day: '2026-09-12' })
  expect(survey.visits()).toHaveLength(2)
  expect(() => survey.moveTrack(9, 1)).toThrow('There is no walked track 9')
})

test('a visit that another program removed leaves its tracks to the next import', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), { ...noContent, tracks: [walkedAt(noon)] })
  const revision = survey.revision()
  const db = otherProgram(survey.path)
  db.exec("DELETE FROM visits; UPDATE tracks SET visit_uuid = 'x'")
  db.close()
  expect(survey.revision()).toBeGreaterThan(revision)
  expect(survey.tracks()[0]!.visitId).toBeNull()
  survey.addFile(original('other.gpx'), noContent)
  expect(survey.tracks()[0]!.visitId).toBe(survey.visits()[0]!.id)
  survey.close()
  const again = openSurveyFile(survey.path, steadySurroundings())
  expect(again.check()).toEqual([])
  again.close()
})

test('a track left out stays in its visit, changes the ground, and comes back with Undo', () => {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), { ...noContent, tracks: [walkedAt(noon), walkedAt(noon + 60)] })
  const ground = survey.groundRevision()
  survey.countTrack(2, false)
  expect(survey.tracks().map(({ walked, visitId }) => [walked, visitId])).toEqual([
    [true, 1],
    [false, 1],
  ])
  expect(survey.groundRevision()).toBeGreaterThan(ground)
  survey.countTrack(2, true)
  expect(survey.tracks()[1]!.walked).toBe(true)
  expect(survey.undo()).toBe('counting of a track')
  expect(survey.undo()).toBe('leaving out of a track')
  expect(survey.tracks()[1]!.walked).toBe(true)
  expect(() => survey.countTrack(9, true)).toThrow('There is no track 9')
})
