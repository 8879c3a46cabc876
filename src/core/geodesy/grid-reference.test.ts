import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { formatGridRef, formatIrishGridRef, parseGridRef, parseIrishGridRef } from './grid-reference.ts'
import { type GridSquare, squareCentre } from './square-figures.ts'

const digits = fc.integer({ min: 0, max: 8 }).map((half) => 2 * half)
const easting = fc.double({ min: -1_000_000, max: 1_499_999.9, noNaN: true })
const northing = fc.double({ min: -500_000, max: 1_999_999.9, noNaN: true })

/** Within half a micrometre, which formatting takes as upon the line. */
function holds(square: GridSquare, x: number, y: number): boolean {
  const slack = 6e-7
  const east = x - square.easting
  const north = y - square.northing
  return east >= -slack && east < square.size + slack && north >= -slack && north < square.size + slack
}

test('the square of a reference holds the position it was made from', () => {
  fc.assert(
    fc.property(easting, northing, digits, (x, y, n) => {
      expect(holds(parseGridRef(formatGridRef(x, y, n)), x, y)).toBe(true)
    }),
  )
})

test('a reference read and written again is the same reference', () => {
  fc.assert(
    fc.property(easting, northing, digits, (x, y, n) => {
      const reference = formatGridRef(x, y, n)
      const square = parseGridRef(reference)
      expect(formatGridRef(square.easting, square.northing, n)).toBe(reference)
      expect(parseGridRef(reference.toLowerCase().replaceAll(' ', ''))).toEqual(square)
    }),
    { numRuns: 1000 },
  )
})

test('a coarser reference contains the finer', () => {
  fc.assert(
    fc.property(easting, northing, digits, digits, (x, y, one, other) => {
      const coarse = parseGridRef(formatGridRef(x, y, Math.min(one, other)))
      const fine = parseGridRef(formatGridRef(x, y, Math.max(one, other)))
      expect(fine.easting).toBeGreaterThanOrEqual(coarse.easting)
      expect(fine.northing).toBeGreaterThanOrEqual(coarse.northing)
      expect(fine.easting + fine.size).toBeLessThanOrEqual(coarse.easting + coarse.size + 1e-9)
      expect(fine.northing + fine.size).toBeLessThanOrEqual(coarse.northing + coarse.size + 1e-9)
    }),
    { numRuns: 1000 },
  )
})

test('Irish references do the same', () => {
  const inIreland = fc.double({ min: 0, max: 499_999.9, noNaN: true })
  fc.assert(
    fc.property(inIreland, inIreland, digits, (x, y, n) => {
      const reference = formatIrishGridRef(x, y, n)
      const square = parseIrishGridRef(reference)
      expect(holds(square, x, y)).toBe(true)
      expect(formatIrishGridRef(square.easting, square.northing, n)).toBe(reference)
    }),
  )
  expect(formatIrishGridRef(315_904, 234_671, 6)).toBe('O 159 346')
  expect(() => formatIrishGridRef(-1, 0, 4)).toThrow('outside the lettered squares')
})

test('tetrads and quadrants are the squares that they name', () => {
  expect(parseGridRef('SP11A')).toEqual({ easting: 410_000, northing: 210_000, size: 2000 })
  expect(parseGridRef('sp 11 e')).toEqual({ easting: 410_000, northing: 218_000, size: 2000 })
  expect(parseGridRef('SP11Z')).toEqual({ easting: 418_000, northing: 218_000, size: 2000 })
  expect(parseGridRef('SP11P')).toEqual({ easting: 414_000, northing: 218_000, size: 2000 })
  expect(parseGridRef('SP 11 NW')).toEqual({ easting: 410_000, northing: 215_000, size: 5000 })
  expect(squareCentre({ easting: 410_000, northing: 215_000, size: 5000 })).toEqual([412_500, 217_500])
})

test.each([
  ['', 'the text is empty'],
  ['TG 51 3', 'an odd number of figures (3)'],
  ['IG 51 31', 'the letter I'],
  ['TG 5140 31', '4 figures east and 2 north'],
  ['T 514 131', 'must begin with two letters'],
  ['TG 51.4 13.1', 'figures only'],
  ['TG 514131A', 'only two figures may be followed by one'],
  ['SP11O', 'perhaps a zero is meant'],
  ['TG 123456789 123456789', '18 figures'],
])('%j is refused in one sentence', (text, part) => {
  expect(() => parseGridRef(text)).toThrow(
    expect.objectContaining({ code: 'bad-coordinate', message: expect.stringContaining(part) }),
  )
})

test('a position beyond the letters, or an odd count of figures, has no reference', () => {
  expect(() => formatGridRef(1_500_000, 0, 6)).toThrow(expect.objectContaining({ code: 'outside-grid' }))
  expect(() => formatGridRef(Number.NaN, 0, 6)).toThrow(expect.objectContaining({ code: 'outside-grid' }))
  expect(() => formatGridRef(0, 0, 5)).toThrow(RangeError)
})

test('ten megabytes of text are refused by their length', () => {
  expect(() => parseGridRef('TG'.repeat(5_000_000))).toThrow('The text is 10000000 characters long')
})

const cases = readFileSync(
  new URL('../../../fixtures/geodesy/grid-references/gridrefs.csv', import.meta.url),
  'utf8',
)
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',') as [string, string, string, string, string])

test('references read as Geo::Coordinates::OSGB reads them', () => {
  const parsed = cases.filter(([direction]) => direction === 'parse')
  expect(parsed).toHaveLength(14)
  for (const [, reference, x, y] of parsed) {
    const { easting, northing } = parseGridRef(reference)
    expect([easting, northing], reference).toEqual([Number(x), Number(y)])
  }
})

test('references written as Geo::Coordinates::OSGB writes them, spaces apart', () => {
  const figures: Record<string, number> = { trad: 6, gps: 10, '10km': 2, '1km': 4 }
  const formatted = cases.filter(([direction]) => direction === 'format')
  expect(formatted).toHaveLength(11)
  for (const [, reference, x, y, form] of formatted) {
    const ours = formatGridRef(Number(x), Number(y), figures[form]!)
    expect(ours.replaceAll(' ', ''), reference).toBe(reference.replaceAll(' ', ''))
  }
})
