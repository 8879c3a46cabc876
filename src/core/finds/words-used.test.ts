import fc from 'fast-check'
import { expect, test } from 'vitest'
import { wordsUsed } from './words-used.ts'

test('spellings that differ in case, accents or signs are one word, called by the commonest', () => {
  const texts = [
    'buckle',
    'Buckle',
    'fibula',
    'buckle',
    'Fíbula ',
    'cut half-penny',
    'cut half penny',
    '',
    ' ',
  ]
  expect(wordsUsed(texts)).toEqual([
    {
      text: 'buckle',
      count: 3,
      spellings: [
        { text: 'buckle', count: 2 },
        { text: 'Buckle', count: 1 },
      ],
    },
    {
      text: 'cut half penny',
      count: 2,
      spellings: [
        { text: 'cut half penny', count: 1 },
        { text: 'cut half-penny', count: 1 },
      ],
    },
    {
      text: 'fibula',
      count: 2,
      spellings: [
        { text: 'fibula', count: 1 },
        { text: 'Fíbula ', count: 1 },
      ],
    },
  ])
})

test('every text that is a word is counted once', () => {
  fc.assert(
    fc.property(fc.array(fc.string()), (texts) => {
      const words = wordsUsed(texts)
      const spelled = words.flatMap(({ spellings }) => spellings)
      const all = texts.filter((text) => text.trim() !== '')
      expect(spelled.reduce((sum, { count }) => sum + count, 0)).toBe(all.length)
      expect(new Set(spelled.map(({ text }) => text))).toEqual(new Set(all))
    }),
  )
})
