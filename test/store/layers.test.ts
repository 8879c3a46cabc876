import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { openSurveyFile } from '#store'
import { otherProgram } from './other-program.ts'
import { layer, newSurvey, original, steadySurroundings } from './sample.ts'

test('a layer comes back as it was stored, also after reopening, and sets the grid', () => {
  const survey = newSurvey()
  const given = layer('field.tif')
  const stored = survey.addLayer(given)
  const { gridEpsg, files, ...facts } = given
  expect(stored).toMatchObject(facts)
  expect(stored.files).toMatchObject([{ ...files[0], originalId: null }])
  expect(survey.identity().gridEpsg).toBe(gridEpsg)
  survey.close()
  const again = openSurveyFile(survey.path, steadySurroundings())
  expect(again.layers()).toEqual([stored])
  expect(again.check()).toEqual([])
  again.close()
})

test('a change names itself for Undo, writes what differs, and leaves no trace where nothing does', () => {
  const survey = newSurvey()
  const { id } = survey.addLayer({ ...layer('photo.jpg'), placing: null, placedBy: null, epsg: null })
  const before = survey.revision()
  expect(survey.changeLayer(id, { name: 'photo.jpg', placing: null }, 'nothing')).toMatchObject({ id })
  expect(survey.revision()).toBe(before)
  const tiePoints = [{ column: 0, row: 0, easting: 557_800, northing: 337_600 }]
  const placing = { ...layer('x').placing!, method: 'projective' as const }
  survey.changeLayer(id, { placing, placedBy: 'tie-points', tiePoints }, 'placing of photo.jpg')
  expect(survey.layers()[0]).toMatchObject({ placing, placedBy: 'tie-points', tiePoints })
  expect(survey.undo()).toBe('placing of photo.jpg')
  expect(survey.layers()[0]).toMatchObject({ placing: null, placedBy: null, tiePoints: [] })
})

test('bytes kept inside are an original, kept once, and stay when the layer goes', () => {
  const survey = newSurvey()
  const photo = original('photo.jpg', 'the bytes')
  const { id } = survey.addLayer(layer('photo.jpg', photo.sha256))
  const other = survey.addLayer(layer('copy.jpg', photo.sha256))
  const kept = survey.keepLayerFile(id, photo)
  expect(survey.keepLayerFile(other.id, photo).files[0]!.originalId).toBe(kept.files[0]!.originalId)
  expect(survey.originals()).toHaveLength(1)
  const bytes = survey.originalBytes(kept.files[0]!.originalId!)
  expect(createHash('sha256').update(bytes).digest('hex')).toBe(photo.sha256)
  survey.removeLayer(id)
  survey.removeLayer(other.id)
  expect([survey.layers(), survey.originals().length]).toEqual([[], 1])
  expect(survey.check()).toEqual([])
  expect(survey.undo()).toBe('removal of layer copy.jpg')
  expect(survey.layers()[0]!.files[0]!.originalId).toBe(kept.files[0]!.originalId)
  expect(() => survey.keepLayerFile(other.id, original('another'))).toThrow(RangeError)
})

test('files found elsewhere keep what else is known of them', () => {
  const survey = newSurvey()
  const photo = original('photo.jpg')
  const { id } = survey.addLayer(layer('photo.jpg', photo.sha256))
  const { files } = survey.keepLayerFile(id, photo)
  const { originalId: _, ...moved } = { ...files[0]!, path: '/elsewhere/photo.jpg', relativePath: null }
  const changed = survey.changeLayer(id, { files: [moved] }, 'finding of photo.jpg')
  expect(changed.files).toEqual([{ ...files[0], path: '/elsewhere/photo.jpg', relativePath: null }])
})

test('a layer that is not there is not found', () => {
  const survey = newSurvey()
  for (const wrong of [() => survey.removeLayer(9), () => survey.changeLayer(9, { name: 'x' }, 'x')]) {
    expect(wrong).toThrow(expect.objectContaining({ code: 'not-found' }))
  }
})

test('what another program writes into a layer is read with care and raises the revision', () => {
  const survey = newSurvey()
  survey.addLayer(layer('field.tif'))
  const before = survey.revision()
  const db = otherProgram(survey.path)
  db.exec("UPDATE layers SET placing = '[1, 2', kind = 'x', tie_points = 'no'")
  db.close()
  expect(survey.revision()).toBe(before + 1)
  expect(survey.layers()[0]).toMatchObject({ placing: null, kind: 'image', tiePoints: [] })
  expect(survey.check().map(({ code }) => code)).toEqual(['json', 'json'])
})
