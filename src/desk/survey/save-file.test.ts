import { expect, test } from 'vitest'
import { fileNameIn } from './save-file.ts'

test('the name of a saved file comes from the reply', () => {
  expect(fileNameIn('attachment; filename="nst-gaps.gpx"')).toBe('nst-gaps.gpx')
  expect(fileNameIn('attachment; filename="x.gpx"; filename*=UTF-8\'\'Ch%C3%A2teau-gaps.gpx')).toBe(
    'Château-gaps.gpx',
  )
  expect(fileNameIn(null)).toBeNull()
})
