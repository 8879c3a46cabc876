import { expect, test } from 'vitest'
import type { LineView, PlaceView } from '#contract'
import { bearingsOf, compassText, fieldName, lengthOrDash, nextText, squaresText } from './measure-words.ts'

const leg: LineView = {
  groundM: 100.01,
  gridM: 100,
  gridBearing: 8,
  trueBearing: 9.88,
  convergence: 1.88,
  magnetic: { bearing: 8.61, declination: 1.27, model: 'WMM2025' },
}
const place = (square: PlaceView['square'], accuracyM: number) => ({ square, accuracyM }) as PlaceView

test('a leg reads by its three bearings, and by dashes while it has none', () => {
  const none = { grid: '–', true: '–', magnetic: '–' }
  expect(bearingsOf(leg)).toEqual({ grid: '008.0°', true: '009.9°', magnetic: '008.6°' })
  expect(bearingsOf({ ...leg, gridBearing: null, trueBearing: null, magnetic: null })).toEqual(none)
  expect(bearingsOf(null)).toEqual(none)
  expect(lengthOrDash(null)).toBe('–')
  expect(lengthOrDash(100.01)).toBe('100.0\u202fm')
})

test('what a compass shows is told by the model, or said not to be known', () => {
  expect(compassText(leg)).toMatch(/^Magnetic north lies 1\.3° east of true north today by the model WMM2025/)
  expect(compassText({ ...leg, magnetic: { bearing: 12, declination: -2.05, model: 'WMM2025' } })).toContain(
    '° west of true north',
  )
  expect(compassText({ ...leg, magnetic: null })).toContain('not worked out here')
})

test('the fields for typed places are named in their order', () => {
  expect([0, 1, 2, 3].map(fieldName)).toEqual(['From', 'To', 'Then to (3)', 'Then to (4)'])
})

test('what squares leave open is said by the coarsest, and nothing is said of points', () => {
  expect(squaresText([place(null, 5), place(null, 0.7)])).toBeNull()
  expect(squaresText([place([[0, 0]], 70.7), place(null, 500), place([[0, 0]], 7.07)])).toBe(
    'Measured from the middles of the squares that the references name; each end may lie 71\u202fm off.',
  )
})

test('the card says what comes next', () => {
  expect(nextText(0, false)).toContain('Click points on the map')
  expect(nextText(2, false)).not.toContain('close the figure')
  expect(nextText(3, false)).toContain('close the figure')
  expect(nextText(3, true)).toContain('begins anew')
})
