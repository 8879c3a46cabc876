import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  areaText,
  countText,
  durationText,
  lengthText,
  measuredText,
  momentText,
  shareText,
  squareMetresText,
  threeFigures,
  wholeNumber,
} from './figures.ts'
import { bearingText, convergenceText, gridNumber, latLonText, plainPair } from './places.ts'

const plain = (text: string): string => text.replaceAll('\u202f', ' ')

test.each([
  [0, '0.0 m²'],
  [4.04, '4.0 m²'],
  [9.96, '10 m²'],
  [950.4, '950 m²'],
  [1000, '0.10 ha'],
  [59_432, '5.94 ha'],
  [99_960, '10.0 ha'],
  [594_000, '59.4 ha'],
  [100_000_000, '10,000 ha'],
])('area %d reads %s', (squareMetres, text) => expect(plain(areaText(squareMetres))).toBe(text))

test.each([
  [1.2, '1.2 m'],
  [850, '850 m'],
  [999.6, '1.00 km'],
  [12_340, '12.3 km'],
])('length %d reads %s', (metres, text) => expect(plain(lengthText(metres))).toBe(text))

test.each([
  [0, '0 %'],
  [0.00001, '0.1 %'],
  [0.67935, '67.9 %'],
  [0.99999, '99.9 %'],
  [1, '100 %'],
])('share %d reads %s', (share, text) => expect(plain(shareText(share))).toBe(text))

test('a share never reads whole or nothing unless it is', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }), (share) => {
      const read = Number.parseFloat(shareText(share))
      return read > 0 && read < 100 && Math.abs(read - share * 100) <= 0.1 + 1e-9
    }),
  )
})

test.each([
  [0.42, '0.4 s'],
  [35, '35 s'],
  [59.6, '1 min'],
  [3599, '1 h'],
  [5100, '1 h 25 min'],
  [36_000, '10 h'],
])('%d seconds read %s', (seconds, text) => expect(plain(durationText(seconds))).toBe(text))

test('counts agree with their word', () => {
  expect(countText(1, 'gap')).toBe('1 gap')
  expect(countText(0, 'gap')).toBe('0 gaps')
  expect(countText(1234, 'fix', 'fixes')).toBe('1,234 fixes')
})

test('three figures keep about three', () => {
  expect(threeFigures(3.254)).toBe('3.25')
  expect(threeFigures(32.54)).toBe('32.5')
  expect(threeFigures(325.4)).toBe('325')
  expect(wholeNumber(1_000_000)).toBe('1,000,000')
})

test('gaps stay in square metres, however large', () => {
  expect(plain(squareMetresText(1734.3))).toBe('1,734 m²')
  expect(plain(squareMetresText(4.04))).toBe('4.0 m²')
})

test('places', () => {
  expect(plain(gridNumber(571_204.34, 1))).toBe('571 204.3')
  expect(plain(gridNumber(204))).toBe('204')
  expect(plain(gridNumber(-1200))).toBe('−1 200')
  expect(plainPair(571_204.34, 345_678)).toBe('571204.3 345678.0')
  expect(latLonText(52.930121, -0.3512)).toBe('52.93012 N, 0.35120 W')
})

test.each([
  [0, '0.00 m'],
  [3.416, '3.42 m'],
  [9.996, '10.0 m'],
  [123.44, '123.4 m'],
  [1234.5, '1,234.5 m'],
  [9999.97, '10.000 km'],
  [152_345.6, '152.346 km'],
])('a measured %d m reads %s', (metres, text) => expect(plain(measuredText(metres))).toBe(text))

test.each([
  [0, '000.0°'],
  [48.26, '048.3°'],
  [359.94, '359.9°'],
  [359.96, '000.0°'],
  [-1, '359.0°'],
])('bearing %d reads %s', (degrees, text) => expect(bearingText(degrees)).toBe(text))

test.each([
  [1.8848, 'Grid north lies 1.88° east of true north here.'],
  [-0.25, 'Grid north lies 0.25° west of true north here.'],
  [-0.001, 'Grid north and true north are the same here.'],
])('convergence %d reads %s', (degrees, text) => expect(convergenceText(degrees)).toBe(text))

test('a time that is none is shown as it came', () => {
  expect(momentText('not a time')).toBe('not a time')
})
