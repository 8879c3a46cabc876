import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { gridDefinition } from './spatial-reference.ts'

const expected = readFileSync(new URL('../../fixtures/store/grids/expected.tsv', import.meta.url), 'utf8')
const cases = expected
  .trim()
  .split('\n')
  .map((line) => line.split('\t') as [string, string])

test.each(cases)('EPSG:%s is defined as gdalsrsinfo 3.6.2 prints it', (epsg, wkt) => {
  expect(gridDefinition(Number(epsg))?.wkt).toBe(wkt)
})

test('a grid that the store does not know has no text', () => {
  expect([gridDefinition(32_600), gridDefinition(32_661), gridDefinition(3857)]).toEqual([null, null, null])
})
