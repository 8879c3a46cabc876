import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { openSurveyFile } from '#store'
import { put, testFolder } from '../../test/service/small-field.ts'
import { importFiles } from './import-file.ts'
import { lanesOfFiles } from './lane-files.ts'
import { surroundings } from './surroundings.ts'

/** On the open sea: some 67 m by 111 m, and a part over its eastern edge. */
const square = (west: number, east: number, properties: object) => ({
  type: 'Feature',
  properties,
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [west, 53],
        [east, 53],
        [east, 53.001],
        [west, 53.001],
        [west, 53],
      ],
    ],
  },
})
const field = square(0.36, 0.361, { name: 'Long Ground' })
const nest = square(0.3608, 0.362, { name: 'Nest', kind: 'no-go' })

function fileOf(folder: string, name: string, ...features: object[]): string {
  return put(folder, name, JSON.stringify({ type: 'FeatureCollection', features }))
}

test('ground that a file says is to be left alone gets no lanes, and comes in as such', async () => {
  const folder = testFolder()
  const wishes = { spacingM: 5, bearing: 0 }
  const lanes = (area: string) =>
    lanesOfFiles({ ...wishes, area, names: { length: 30, ascii: false } }).then(({ figures }) => figures)
  const whole = await lanes(fileOf(folder, 'field.geojson', field))
  const both = fileOf(folder, 'both.geojson', field, nest)
  const left = await lanes(both)
  expect(left.areaM2 / whole.areaM2).toBeCloseTo(0.8, 3)
  expect(left.notes).toContain('Left out, as ground to be left alone: Nest.')
  await expect(lanes(fileOf(folder, 'nest.geojson', nest))).rejects.toMatchObject({ code: 'no-area' })

  const file = path.join(folder, 'nst.gpkg')
  await importFiles(file, [both])
  const survey = openSurveyFile(file, surroundings)
  onTestFinished(() => survey.close())
  expect(survey.areas().map(({ name, kind, attributes }) => ({ name, kind, attributes }))).toEqual([
    { name: 'Long Ground', kind: 'search', attributes: {} },
    { name: 'Nest', kind: 'no-go', attributes: {} },
  ])
})
