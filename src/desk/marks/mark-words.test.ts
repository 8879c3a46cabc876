import { expect, test } from 'vitest'
import { madeUpMark } from '../../../test/desk/made-up-mark.ts'
import { chanceText, markName, pairText, pointOf, seenText, shortChance, sizeText } from './mark-words.ts'

const plain = (text: string | null): string | undefined => text?.replaceAll('\u202f', ' ')

test.each([
  [0.1, 'About one so good in 10 km² of ground like this picture would be chance.', 'chance: 1 in 10 km²'],
  [0.0123, 'About one so good in 81 km² of ground like this picture would be chance.', 'chance: 1 in 81 km²'],
  [0.6, 'About one so good in 1.7 km² of ground like this picture would be chance.', 'chance: 1 in 1.7 km²'],
  [0.96, 'About 1 so good in each km² of ground like this picture would be chance.', 'chance: 1 a km²'],
  [
    2347,
    'About 2,300 so good in each km² of ground like this picture would be chance.',
    'chance: 2,300 a km²',
  ],
  [0, 'None so good came up by chance on ground like that of this picture.', 'chance: none so good'],
])('%d a square kilometre in words', (value, sentence, short) => {
  expect([plain(chanceText(value)), plain(shortChance(value))]).toEqual([sentence, short])
})

test('what a person drew has no chance to tell of', () => {
  expect([chanceText(null), shortChance(null)]).toEqual([null, 'drawn by hand'])
})

test('a size is a diameter, a length or an area', () => {
  expect(plain(markName(madeUpMark()))).toBe('Ring 5, 20.0 m')
  const outline: [number, number][] = [
    [0, 0],
    [30, 0],
    [30, 40],
  ]
  expect(plain(sizeText(madeUpMark({ kind: 'line', diameterM: null, outline })))).toBe('70 m')
  expect(plain(sizeText(madeUpMark({ kind: 'enclosure', diameterM: null, outline })))).toBe('600 m²')
})

test('how much of a line is seen, and what runs beside it', () => {
  expect(plain(seenText({ kind: 'line', completeness: 0.625, arcGaps: [] }))).toBe('63 % of its length')
  expect(plain(seenText({ kind: 'enclosure', completeness: 1, arcGaps: [] }))).toBe('100 % of the way round')
  expect([plain(pairText(4.25)), pairText(null)]).toEqual([
    'another line, 4.25 m from middle to middle',
    null,
  ])
})

test('where a ring is not seen is told by the compass', () => {
  expect(plain(seenText(madeUpMark()))).toBe('75 % of the circle; not seen to the north-east (90°)')
  expect(plain(seenText({ kind: 'ring', completeness: 1, arcGaps: [{ fromDeg: 3, toDeg: 9 }] }))).toBe(
    '100 % of the circle',
  )
  expect(seenText({ kind: 'ring', completeness: null, arcGaps: [] })).toBeNull()
  expect([0, 22, 23, 359, 400, -90].map(pointOf)).toEqual([
    'north',
    'north',
    'north-east',
    'north',
    'north-east',
    'west',
  ])
})
