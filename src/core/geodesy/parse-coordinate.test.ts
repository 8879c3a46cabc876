import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { parseCoordinate, parseCoordinates } from './parse-coordinate.ts'
import { decodeShiftGrid } from './shift-grid.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)
const context = { shift }

test.each([
  ['TG 51409 13177', 'national-grid-reference', 27_700, 651_409, 313_177, 1],
  ['tg5140913177', 'national-grid-reference', 27_700, 651_409, 313_177, 1],
  ['tg 514, 131', 'national-grid-reference', 27_700, 651_400, 313_100, 100],
  ['OSGB36: TG 514 131', 'national-grid-reference', 27_700, 651_400, 313_100, 100],
  ['SP11A', 'national-grid-reference', 27_700, 410_000, 210_000, 2000],
  ['SP', 'national-grid-reference', 27_700, 400_000, 200_000, 100_000],
  ['O 159 346', 'irish-grid-reference', 29_903, 315_900, 234_600, 100],
  ['Irish Grid n1234', 'irish-grid-reference', 29_903, 212_000, 234_000, 1000],
  ['31U DU 13175 35008', 'mgrs', 32_631, 413_175, 5_835_008, 1],
  ['30uxc99', 'mgrs', 32_630, 690_000, 5_790_000, 10_000],
  ['31N 413175 5835008', 'utm', 32_631, 413_175, 5_835_008, 1],
  ['UTM zone 31 U 413175 mE, 5835008 mN', 'utm', 32_631, 413_175, 5_835_008, 1],
  ['56S 334873.25 6252266.5', 'utm', 32_756, 334_873.25, 6_252_266.5, 0.1],
  ['UPS N 2154262 1840257', 'utm', 5041, 2_154_262, 1_840_257, 1],
  ['651409.903, 313177.270', 'easting-northing', 27_700, 651_409.903, 313_177.27, 0.001],
  ['651409,313177', 'easting-northing', 27_700, 651_409, 313_177, 1],
  ['313177N 651409E', 'easting-northing', 27_700, 651_409, 313_177, 1],
  ['Easting: 651409 Northing: 313177', 'easting-northing', 27_700, 651_409, 313_177, 1],
  ['ITM 715830 734697', 'easting-northing', 2157, 715_830, 734_697, 1],
  ['EPSG:29903 315904 234671', 'easting-northing', 29_903, 315_904, 234_671, 1],
])('%s', (text, notation, epsg, easting, northing, precisionM) => {
  const read = parseCoordinate(text, context)
  expect(read).toMatchObject({ notation, planar: { epsg, easting, northing } })
  expect(read.precisionM).toBeCloseTo(precisionM, 9)
  expect(read.accuracyM).toBeCloseTo(precisionM * Math.SQRT1_2, 9)
})

test('a reference is a square: its corner as written, its middle for placing a find', () => {
  const read = parseCoordinate('TG 514 131', context)
  expect(read.square).toEqual({ easting: 651_400, northing: 313_100, size: 100 })
  expect(read.reference).toBe('TG 514 131')
  const middle = parseCoordinate('BNG 651450 313150', context)
  expect(read.centre.lat).toBeCloseTo(middle.lat, 12)
  expect(read.centre.lon).toBeCloseTo(middle.lon, 12)
})

test('plain metres are read in the grid of the survey, or as British with a warning', () => {
  expect(parseCoordinate('715830 734697', { shift, epsg: 2157 })).toMatchObject({
    planar: { epsg: 2157 },
    warnings: [],
  })
  expect(parseCoordinate('651409 313177', context).warnings).toEqual([
    'The text names no grid; it was read as British National Grid.',
  ])
})

test('what was guessed is said', () => {
  expect(parseCoordinate('1.7, 52.6', context).warnings[0]).toContain('look swapped')
  expect(parseCoordinate('31T 413175 5835008', context).warnings[0]).toContain('lies in band U, not T')
  expect(parseCoordinate('30S 413175 4000000', context).warnings[0]).toContain('southern hemisphere')
  expect(parseCoordinate('SV 0 0', context).warnings[0]).toContain('south-west corner lies outside')
})

test.each([
  ['', 'bad-coordinate', 'the text is empty'],
  ['  \n ', 'bad-coordinate', 'the text is empty'],
  ['hello world', 'bad-coordinate', 'no coordinate in a known notation'],
  ['TG 514 13', 'bad-coordinate', 'an odd number of figures (5)'],
  ['TI 514 131', 'bad-coordinate', 'the letter I'],
  ['TG 51.4 13.1', 'bad-coordinate', 'after the letters come figures only'],
  ['52,6576 1,7161', 'bad-coordinate', 'commas inside its numbers'],
  ['651,409 313,177', 'bad-coordinate', 'commas inside its numbers'],
  ['100 200', 'bad-coordinate', 'the poles are at 90 degrees'],
  ['WE 950 950', 'outside-grid', 'The square WE 950 950 lies outside'],
  ['BNG 900000 100', 'outside-grid', 'lies outside British National Grid'],
  ['715830 734697', 'bad-coordinate', 'names no other; put ITM'],
  ['EPSG:9999 1000 2000', 'bad-coordinate', 'EPSG 9999 is no grid known here'],
  ['61N 413175 5835008', 'bad-coordinate', 'the zones are 1 to 60'],
  ['31B 413175 5835008', 'bad-coordinate', 'which is polar'],
  ['31N 13175 5835008', 'bad-coordinate', "out of UTM's range"],
  ['E 651409 E 313177', 'bad-coordinate', 'gives easting twice'],
  ['32XMH12', 'bad-coordinate', 'no such zone and band'],
])('%j is refused in one sentence', (text, code, part) => {
  expect(() => parseCoordinate(text, context)).toThrow(
    expect.objectContaining({ code, message: expect.stringContaining(part) }),
  )
  expect(() => parseCoordinate(text, context)).toThrow(/^[^\n]+\.$/)
})

test('ten megabytes of text are refused by their length, at once', () => {
  const text = '52.1,'.repeat(2_000_000)
  expect(() => parseCoordinate(text, context)).toThrow('The text is 10000000 characters long')
  expect(() => parseCoordinates(text, context)).toThrow('use a CSV file instead')
})

test('no text makes anything but a coordinate or a sentence', () => {
  const piece = fc.constantFrom(
    ...[
      'TG',
      'N',
      'S',
      'E',
      'W',
      '52',
      '1.7',
      '30U',
      'XC',
      '°',
      "'",
      '"',
      ',',
      ';',
      ' ',
      '-',
      '.',
      'UTM',
      'LAT',
      '651409',
      '0',
      'İ',
      'ß',
    ],
  )
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: 'binary' }),
        fc.array(piece).map((parts) => parts.join('')),
      ),
      (text) => {
        try {
          const read = parseCoordinate(text, context)
          expect(Math.abs(read.lat)).toBeLessThanOrEqual(90)
          expect(Math.abs(read.lon)).toBeLessThanOrEqual(180)
          expect(read.precisionM).toBeGreaterThan(0)
        } catch (error) {
          expect((error as Error).name).toBe('SurveyError')
        }
      },
    ),
    { numRuns: 5000 },
  )
})

test('several places, a line or many', () => {
  const found = (text: string): unknown[] =>
    parseCoordinates(text, context).map((reading) =>
      'fault' in reading
        ? 'fault'
        : (reading.coordinate.reference ?? `${reading.coordinate.lat} ${reading.coordinate.lon}`),
    )
  expect(found('TG 514 131; SP 123 456')).toEqual(['TG 514 131', 'SP 123 456'])
  expect(found('TG514131, SP123456')).toEqual(['TG 514 131', 'SP 123 456'])
  expect(found('TG514131 SP123456')).toEqual(['TG 514 131', 'SP 123 456'])
  expect(found('52.6; 1.7')).toEqual(['52.6 1.7'])
  expect(found('52.6,1.7; 52.7,1.8\n\nTG 514 131\r\n')).toEqual(['52.6 1.7', '52.7 1.8', 'TG 514 131'])
  expect(found('TG 514 131; nonsense; SP 12 34')).toEqual(['TG 514 131', 'fault', 'SP 12 34'])
  expect(found('nonsense')).toEqual(['fault'])
  expect(found('')).toEqual([])
  expect(parseCoordinates('WE 950 950', context)).toMatchObject([
    { text: 'WE 950 950', code: 'outside-grid' },
  ])
})
