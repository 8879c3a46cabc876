import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { lackOf, layerFacts, nameWithYear, pixelText } from './layer-words.ts'

test.each([
  [0.25, '25\u202fcm'],
  [0.123, '12\u202fcm'],
  [0.005, '0.5\u202fcm'],
  [1, '1.0\u202fm'],
  [50, '50\u202fm'],
])('a pixel of %f m reads %s', (metres, text) => expect(pixelText(metres)).toBe(text))

test('a layer is told apart by kind, day and detail', () => {
  expect(layerFacts(madeUpLayer())).toBe('Image · 2 Jul 2026 · 10\u202fcm a pixel · 4 bands')
  expect(layerFacts(madeUpLayer({ takenOn: null, bounds: null, bands: 3 }))).toBe(
    'Image · 4,000 × 3,000 pixels',
  )
})

test('the year is added unless the name has it', () => {
  expect(nameWithYear(madeUpLayer())).toBe('Low Field (2026)')
  expect(nameWithYear(madeUpLayer({ name: 'Low 2026' }))).toBe('Low 2026')
  expect(nameWithYear(madeUpLayer({ takenOn: null }))).toBe('Low Field')
})

test('what a layer lacks: first its file, then what would place it', () => {
  expect(lackOf(madeUpLayer())).toBeNull()
  expect(lackOf(madeUpLayer({ found: false, bounds: null }))).toBe('file')
  expect(lackOf(madeUpLayer({ bounds: null, lack: 'system' }))).toBe('system')
  expect(lackOf(madeUpLayer({ bounds: null }))).toBe('place')
})
