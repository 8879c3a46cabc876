import { expect, test } from 'vitest'
import type { Added, ImportedFile } from '#contract'
import { addedText, boundsOfAll, faultPlace, outcomeText } from './summary.ts'

const nothing: Added = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0, layers: 0, photos: 0 }
const file: ImportedFile = {
  name: 'walk.gpx',
  sha256: '',
  kind: 'gpx',
  added: nothing,
  alreadyThere: false,
  faults: [],
  bounds: null,
}

test('what came in is said with its plurals, fixes with their tracks', () => {
  expect(addedText({ ...nothing, tracks: 1, fixes: 5412, findspots: 12 })).toBe(
    '1 track with 5,412 fixes, 12 findspots',
  )
  expect(addedText({ ...nothing, areas: 2 })).toBe('2 search areas')
  expect(addedText(nothing)).toBe('')
})

test('every outcome has its sentence', () => {
  expect(outcomeText({ ...file, added: { ...nothing, areas: 1 } })).toBe('1 search area.')
  expect(outcomeText({ ...file, alreadyThere: true })).toBe('Was in the survey already; nothing was changed.')
  expect(outcomeText(file)).toBe('Nothing in it has a place in a survey.')
  expect(outcomeText({ ...file, kind: 'world-file' })).toBe('Says where a picture lies.')
  expect(outcomeText({ ...file, kind: null })).toBe('Could not be read.')
})

test('a fault names its line or the file', () => {
  expect(faultPlace(12)).toBe('Line 12')
  expect(faultPlace(null)).toBe('File')
})

test('bounds hold all that have some', () => {
  expect(boundsOfAll([null, [1, 2, 3, 4], [0, 3, 2, 9]])).toEqual([0, 2, 3, 9])
  expect(boundsOfAll([null])).toBeNull()
  expect(boundsOfAll([])).toBeNull()
})
