import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { isoSeconds, isoText, statesZone } from './index.ts'

test('agrees with Date on every time that Date prints', () => {
  const date = fc.date({
    min: new Date('0001-01-01T00:00:00Z'),
    max: new Date('9999-12-31T23:59:59.999Z'),
    noInvalidDate: true,
  })
  fc.assert(
    fc.property(date, (when) => {
      expect(isoSeconds(when.toISOString())).toBeCloseTo(when.getTime() / 1000, 4)
    }),
  )
})

test('what isoText writes isoSeconds reads, to the millisecond', () => {
  fc.assert(
    fc.property(fc.integer({ min: -6e13, max: 2e14 }), (ms) => {
      expect(isoSeconds(isoText(ms / 1000))).toBeCloseTo(ms / 1000, 4)
    }),
  )
})

// Offsets after RFC 3339 section 5.8 (its second and fourth example name one instant each way).
test.each([
  ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57Z'],
  ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.87Z'],
  ['2024-05-01 10:00', '2024-05-01T10:00:00Z'],
  ['2024-05-01', '2024-05-01T00:00:00Z'],
  ['2024-05-01Z', '2024-05-01T00:00:00Z'],
  ['2024-05-01t10:00:00,5z', '2024-05-01T10:00:00.5Z'],
  ['2024-05-01T10:00:00+0530', '2024-05-01T04:30:00Z'],
  ['2024-05-01T10:00:00+01', '2024-05-01T09:00:00Z'],
  ['2024-02-29T24:00:00Z', '2024-03-01T00:00:00Z'],
  ['1990-12-31T23:59:60Z', '1991-01-01T00:00:00Z'],
])('%s is %s', (text, same) => expect(isoSeconds(text)).toBe(isoSeconds(same)))

test('a fraction of seven digits is kept', () => {
  expect(isoSeconds('1970-01-01T00:00:52.2073437Z')).toBe(52.2073437)
})

test.each([
  '',
  'yesterday',
  '2023-02-29T00:00:00Z',
  '2024-13-01T00:00:00Z',
  '2024-00-01',
  '2024-1-1',
  '2024-05-01T25:00:00Z',
  '2024-05-01T24:00:01Z',
  '2024-05-01T10:60:00Z',
  '2024-05-01T10:00:61Z',
  '2024-05-01T10:00:00.Z',
  '2024-05-01T10:00:00Q',
  '2024-05-01T10:00:00+15:00',
  '2024-05-01T10:00:00Zjunk',
  '20240501T100000Z',
])('%j is no time', (text) => expect(isoSeconds(text)).toBeNaN())

test('a time names its zone, or does not', () => {
  for (const text of ['2024-05-01T10:00:00Z', '2024-05-01T10:00:00+01:00', '2024-05-01 10:00-0100'])
    expect(statesZone(text)).toBe(true)
  for (const text of ['2024-05-01T10:00:00', '2024-05-01', '2024-05-01T10:00:00.5'])
    expect(statesZone(text)).toBe(false)
})

test('a time that ISO cannot write is a wrong call', () => {
  for (const seconds of [Number.NaN, 1e15, -1e12]) expect(() => isoText(seconds)).toThrow(RangeError)
})
