import { expect, test } from 'vitest'
import type { FindList, FindRow } from '#contract'
import { findspot, newSurvey, noContent, original } from '../../../test/store/sample.ts'
import { withChanges } from '../../desk/finds/find-rows.ts'
import { FindsOfSurvey } from './finds-of-survey.ts'

test('a list kept up by changes alone is the whole list, after every kind of change', () => {
  const survey = newSurvey()
  survey.addFile(original('a.csv'), {
    ...noContent,
    gridEpsg: 27700,
    findspots: [findspot('A'), findspot('B')],
  })
  const finds = new FindsOfSurvey(survey, () => {})
  let rows: readonly FindRow[] = []
  let at: string | null = null
  let last: FindList = finds.list()
  const keepUp = (): void => {
    last = finds.list(at)
    rows = withChanges(rows, last)
    at = last.at
    expect(rows).toEqual(withChanges([], finds.list()))
  }
  keepUp()
  expect(last.gone).toBeNull()
  const place = { easting: 557_810, northing: 347_010 }
  const added = finds.add({ record: { objectType: { text: 'pin', term: null } }, place })
  keepUp()
  expect([last.rows.length, last.gone]).toEqual([1, []])
  const same = rows
  keepUp()
  expect(rows).toBe(same)
  const picture = {
    ...{ role: 'obverse', note: null, mmPerPixel: null, scaleLine: null, name: 'a.jpg', path: '/a.jpg' },
    ...{ relativePath: null, sha256: 'b'.repeat(64), size: 1, width: 1, height: 1, orientation: 1 },
    ...{ takenAt: null, exif: null, thumbnail: Uint8Array.of(1) },
  }
  const steps: (() => unknown)[] = [
    () => finds.change(added.id, { record: { weightG: 3 } }),
    () => finds.change(added.id, { place: { ...place, easting: 557_900 } }),
    () => survey.catalogue.addPhotograph(added.id, picture, null),
    () => finds.removePhotograph(survey.catalogue.photographs(added.id)[0]!.id),
    () => finds.changeMany({ ids: rows.map(({ id }) => id), record: { whereNow: 'box 4' } }),
    () => finds.remove([rows[0]!.id]),
    () => survey.undo(),
    () => survey.undo(),
    () => finds.remove([added.id]),
  ]
  for (const step of steps) {
    step()
    keepUp()
    expect(last.gone).not.toBeNull()
  }
})

test('a moment that this survey never had, and more changes than are worth telling, bring the whole list', () => {
  const survey = newSurvey()
  const finds = new FindsOfSurvey(survey, () => {})
  const { at } = finds.list()
  survey.catalogue.add(
    Array.from({ length: 2001 }, () => ({ record: {}, foundAt: null })),
    'many',
  )
  for (const since of [at, '1 1999-01-01T00:00:00.000Z', 'x', '0', '99999 y'])
    expect([since, finds.list(since).gone, finds.list(since).rows.length]).toEqual([since, null, 2001])
})
