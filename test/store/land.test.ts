import { expect, test } from 'vitest'
import { openSurveyFile, type PermissionFacts } from '#store'
import { otherProgram } from './other-program.ts'
import { newSurvey, original, square, steadySurroundings, userRows } from './sample.ts'

const strip = square(0.35, 53.01)
const leave: PermissionFacts = {
  name: 'Ninestile Farm',
  holder: 'A. Tenant',
  contact: '01632 960001',
  areaId: null,
  polygons: [strip],
  startsOn: '2026-09-01',
  endsOn: '2027-02-28',
  terms: 'Stubble only.',
  findsShare: 'Half and half.',
  access: 'Shut the white gate.',
}
const lane = (walker: number, number: number) => ({
  walker,
  number,
  lengthM: 12.5,
  xy: Float64Array.of(0.35, 53.01, 0.351, 53.011),
})
const plan = {
  name: 'Long Ground, 2 m',
  areaId: 7,
  areaName: 'Long Ground',
  settings: { spacingM: 2 },
  figures: { lanes: 2 },
  clashes: ['Lane 1 touches the barrow.'],
}

test('permissions, notes, plans and constraints come back as they were kept, also after reopening', () => {
  const survey = newSurvey()
  const { land } = survey
  const permission = land.addPermission(leave)
  expect(permission).toMatchObject({ ...leave, agreement: null })
  const later = land.addGroundNote({
    permissionId: permission.id,
    kind: 'crop',
    notedOn: '2026-10-02',
    note: 'Stubble.',
  })
  const earlier = land.addGroundNote({
    permissionId: permission.id,
    kind: 'access',
    notedOn: '2026-09-01',
    note: 'Bull.',
  })
  const kept = land.keepPlan(plan, [lane(2, 1), lane(1, 2), lane(1, 1)])
  const shapes = [
    { type: 'polygons' as const, polygons: [strip] },
    { type: 'line' as const, xy: Float64Array.of(0.35, 53.01, 0.36, 53.02) },
    { type: 'point' as const, lon: 0.35, lat: 53.01 },
  ]
  const constraints = land.addConstraints(
    original('barrows.geojson'),
    shapes.map((shape, i) => ({ name: `Thing ${i}`, kind: 'monument', bufferM: 20, shape })),
  )
  expect(survey.check()).toEqual([])
  survey.close()
  const again = openSurveyFile(survey.path, steadySurroundings()).land
  expect(again.permissions()).toEqual([permission])
  expect(again.groundNotes()).toEqual([later, earlier])
  expect(again.plans()).toEqual([kept])
  expect(again.lanes(kept.id)).toEqual([lane(1, 1), lane(1, 2), lane(2, 1)])
  expect(again.constraints()).toEqual(constraints)
  expect(constraints.map(({ shape }) => shape)).toEqual(shapes)
})

test('each change is one step of Undo', () => {
  const survey = newSurvey()
  const { land } = survey
  const { id } = land.addPermission(leave)
  land.addGroundNote({ permissionId: id, kind: 'ground', notedOn: '2026-10-02', note: 'Wet.' })
  const kept = land.keepPlan(plan, [lane(1, 1)])
  const [constraint] = land.addConstraints(original('pipes.geojson'), [
    { name: 'Main', kind: 'service', bufferM: 3, shape: { type: 'point', lon: 0.35, lat: 53.01 } },
  ])
  const steps: [string, () => void][] = [
    [
      'change of permission Ninestile Farm',
      () => land.changePermission(id, { holder: null, polygons: null }),
    ],
    ['agreement leave.pdf', () => land.attachAgreement(id, original('leave.pdf'), true)],
    ['removal of permission Ninestile Farm', () => land.removePermission(id)],
    ['removal of plan Long Ground, 2 m', () => land.removePlan(kept.id)],
    ['change of constraints', () => land.changeConstraints([constraint!.id], { bufferM: 9, kind: 'gas' })],
    ['removal of pipes.geojson', () => land.removeConstraints([constraint!.id], 'pipes.geojson')],
  ]
  for (const [what, change] of steps) {
    const before = userRows(survey.path)
    change()
    expect(userRows(survey.path)).not.toEqual(before)
    expect(survey.undo()).toBe(what)
    expect(userRows(survey.path)).toEqual(before)
  }
})

test('an agreement is noted by its SHA-256, and its bytes are kept where that is wished', () => {
  const survey = newSurvey()
  const { id } = survey.land.addPermission(leave)
  const file = original('leave.pdf')
  const outside = survey.land.attachAgreement(id, file, false).agreement
  expect(outside).toEqual({ name: 'leave.pdf', sha256: file.sha256, size: 9, originalId: null })
  expect(survey.originals()).toEqual([])
  const { originalId } = survey.land.attachAgreement(id, file, true).agreement!
  expect(survey.originalBytes(originalId!)).toEqual(file.bytes)
  expect(survey.land.detachAgreement(id).agreement).toBeNull()
})

test('the same file of constraints twice adds nothing', () => {
  const { land } = newSurvey()
  const facts = [
    { name: 'Barrow', kind: '', bufferM: 0, shape: { type: 'polygons' as const, polygons: [strip] } },
  ]
  expect(land.addConstraints(original('a.geojson'), facts)).toHaveLength(1)
  expect(land.addConstraints(original('a.geojson'), facts)).toEqual([])
  expect(land.constraints()).toHaveLength(1)
})

test('an area keeps its kind when its outline changes, and the cover depends on it', () => {
  const survey = newSurvey()
  const area = survey.addArea({ name: 'Pond', kind: 'no-go', polygons: [strip], given: null })
  expect(area.kind).toBe('no-go')
  expect(survey.changeArea(area.id, { name: 'Mere', polygons: [strip], given: null }).kind).toBe('no-go')
  const ground = survey.groundRevision()
  expect(
    survey.changeArea(area.id, { name: 'Mere', kind: 'search', polygons: [strip], given: null }).kind,
  ).toBe('search')
  expect(survey.groundRevision()).toBe(ground + 1)
})

test('another program may change a permission; a day that is none and an odd kind of note do no harm', () => {
  const survey = newSurvey()
  const { id } = survey.land.addPermission(leave)
  survey.land.addGroundNote({ permissionId: id, kind: 'crop', notedOn: '2026-10-02', note: 'Rape.' })
  const revision = survey.revision()
  const other = otherProgram(survey.path)
  other.exec("UPDATE permissions SET ends_on = 'soon', holder = 'B'; UPDATE ground_notes SET kind = 'mood'")
  other.close()
  expect(survey.revision()).toBe(revision + 2)
  expect(survey.land.permissions()[0]).toMatchObject({ endsOn: null, holder: 'B' })
  expect(survey.land.groundNotes()[0]?.kind).toBe('ground')
  expect(survey.undoable()).toBeNull()
})

test('what is not there is said to be missing', () => {
  const { land } = newSurvey()
  const missing = expect.objectContaining({ code: 'not-found' })
  expect(() => land.changePermission(9, {})).toThrow(missing)
  expect(() =>
    land.addGroundNote({ permissionId: 9, kind: 'crop', notedOn: '2026-01-01', note: '' }),
  ).toThrow(missing)
  expect(() => land.removeGroundNote(9)).toThrow(missing)
  expect(() => land.plan(9)).toThrow(missing)
})
