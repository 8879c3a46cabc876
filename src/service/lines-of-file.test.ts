import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import { lineSettings } from './lines-of-file.ts'

const asked = (from: number, to: number, length: number | null = null) =>
  lineSettings(
    'ditch.tif',
    { kind: 'line', width: { from, to }, length, tone: 'dark', most: 50 },
    { columns: 200, rows: 200 } as Parameters<typeof lineSettings>[2],
    0.5,
  )

test.each([
  [() => asked(0.5, 2), 'the narrowest line that it can show is 0.75 m wide, not 0.5 m.'],
  [() => asked(3, 1), 'The range of widths is reversed: 3 to 1; give the smaller one first.'],
  [() => asked(1, 60), 'no line wider than a quarter of that can be told from the ground'],
  [() => asked(1, 2, 2), 'the shortest line that can be told from a blob is 5 m long'],
  [() => asked(1, 2, 900), 'no line of 900 m fits into it'],
])('lines that a raster of 0.5 m pixels cannot show are refused with a sentence: %#', (ask, sentence) => {
  expect(ask).toThrow(SurveyError)
  expect(ask).toThrow(sentence)
})

test('metres become pixels, and a length not asked for is ten widths', () => {
  const pixels = { minWidthPx: 2, maxWidthPx: 4, leastLengthPx: 20 }
  expect(asked(1, 2)).toEqual({ ...pixels, tone: 'dark', most: 50, pixelM: 0.5 })
})
