import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { groundAt, pictureAt, placementFromLines } from '#core/imagery'
import { isWorldFileName, readWorldFile, worldFileFor, writeWorldFile } from './index.ts'

const read = (text: string) => readWorldFile(new TextEncoder().encode(text), { fileName: 'field.jgw' })
const ground = (text: string, column: number, row: number): [number, number] =>
  groundAt(placementFromLines(read(text).lines!), column, row)

describe('worked by hand', () => {
  test('an upright picture of 60 m pixels: the numbers are those of the middle of a pixel', () => {
    // The example of GDAL's page on world files: middle of the upper left pixel at 440750, 3751290.
    const text =
      '60.0000000000\n0.0000000000\n0.0000000000\n-60.0000000000\n440750.0000000000\n3751290.0000000000\n'
    expect(read(text).faults).toEqual([])
    expect(ground(text, 0.5, 0.5)).toEqual([440_750, 3_751_290])
    expect(ground(text, 0, 0)).toEqual([440_720, 3_751_320])
    expect(ground(text, 10, 4)).toEqual([441_320, 3_751_080])
  })

  test('a picture turned so that its columns run to the north-east, by 3-4-5', () => {
    // 0.5 m pixels. A column adds (0.3, 0.4), a row (0.4, -0.3); middle of the first pixel at (100, 200).
    const text = '0.3\n0.4\n0.4\n-0.3\n100\n200'
    expect(ground(text, 0.5, 0.5)).toEqual([expect.closeTo(100, 12), expect.closeTo(200, 12)])
    expect(ground(text, 10.5, 0.5)).toEqual([expect.closeTo(103, 12), expect.closeTo(204, 12)])
    expect(ground(text, 0.5, 10.5)).toEqual([expect.closeTo(104, 12), expect.closeTo(197, 12)])
    const placement = placementFromLines(read(text).lines!)
    expect(pictureAt(placement, 107, 201)).toEqual([expect.closeTo(10.5, 9), expect.closeTo(10.5, 9)])
  })

  test('rows that run northwards are kept so', () => {
    expect(ground('2\n0\n0\n2\n1\n1\n', 0, 3)).toEqual([0, 6])
  })
})

test.each([
  [
    'a byte order mark, spaces and other line ends',
    '\uFEFF 0.25 \r\n0\r\n0\r\n-0.25\r\n558000.125\r\n347999.875\r\n\r\n',
  ],
  ['old line ends', '0.25\r0\r0\r-0.25\r558000.125\r347999.875'],
  ['exponents and signs', '+2.5e-1\n0\n-0\n-.25\n5.58000125E5\n347999.875'],
])('%s make no difference', (_, text) => {
  expect(read(text)).toEqual({
    lines: {
      easting: 558_000,
      northing: 348_000,
      eastingPerColumn: 0.25,
      northingPerColumn: 0,
      eastingPerRow: expect.closeTo(0),
      northingPerRow: -0.25,
    },
    faults: [],
  })
})

describe('what is no world file leaves the picture unplaced and says why', () => {
  test.each([
    [
      'a decimal comma',
      '0,25\n0\n0\n-0,25\n1\n2\n',
      1,
      'bad-value',
      '“0,25” has a decimal comma; write it with a point, 0.25',
    ],
    ['a comma further down', '0.25\n0\n0\n-0.25\n558000,125\n2\n', 5, 'bad-value', '558000.125'],
    ['words', '0.25\nzero\n0\n-0.25\n1\n2\n', 2, 'bad-value', '“zero” is not a number'],
    ['all on one line', '0.25 0 0 -0.25 1 2', 1, 'bad-value', 'is not a number'],
    ['infinity', '0.25\n0\n0\n-0.25\nInfinity\n2\n', 5, 'bad-value', 'is not a number'],
    ['a number too great', '0.25\n0\n0\n-0.25\n1e400\n2\n', 5, 'bad-value', 'is not a number'],
    ['cut short', '0.25\n0\n0\n-0.25\n', null, 'broken-file', 'ends after 4 of the six'],
    ['empty', '', null, 'empty-file', 'holds no numbers'],
    ['blank', '\n \n\n', null, 'empty-file', 'holds no numbers'],
    ['pixels of no size', '0\n0\n0\n-0.25\n1\n2\n', null, 'bad-value', 'on a line or a point'],
    ['columns along the rows', '1\n1\n1\n1\n1\n2\n', null, 'bad-value', 'on a line or a point'],
    ['a picture under a wrong name', '\u0089PNG\r\n\u001a\n', 1, 'bad-value', 'is not a number'],
  ])('%s', (_, text, line, code, sentence) => {
    const { lines, faults } = read(text)
    expect(lines).toBeNull()
    expect(faults).toHaveLength(1)
    expect(faults[0]).toMatchObject({ line, code })
    expect(faults[0]!.text).toContain(sentence)
  })

  test('lines after the sixth are left out and told', () => {
    const { lines, faults } = read('1\n0\n0\n-1\n10\n20\n27700\nmore\n')
    expect(lines).toMatchObject({ easting: 9.5, northing: 20.5 })
    expect(faults).toEqual([expect.objectContaining({ line: 7, code: 'unsupported-feature' })])
  })

  test('any bytes give an answer', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const { lines, faults } = readWorldFile(bytes, { fileName: 'x.wld' })
        expect(lines !== null || faults.length > 0).toBe(true)
      }),
    )
  })
})

test('what is written reads back', () => {
  const number = fc.double({ min: -1e7, max: 1e7, noNaN: true })
  const size = fc.double({ min: 0.01, max: 100, noNaN: true })
  fc.assert(
    fc.property(
      number,
      number,
      size,
      size,
      fc.double({ min: -3, max: 3, noNaN: true }),
      (x, y, w, h, turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)]
        const lines = {
          easting: x,
          northing: y,
          eastingPerColumn: w * c,
          northingPerColumn: w * s,
          eastingPerRow: h * s,
          northingPerRow: -h * c,
        }
        const back = read(writeWorldFile(lines))
        expect(back.faults).toEqual([])
        for (const [name, value] of Object.entries(lines))
          expect(Math.abs(back.lines![name as keyof typeof lines] - value)).toBeLessThan(1e-8)
      },
    ),
  )
  expect(
    writeWorldFile({
      easting: 558_000,
      northing: 348_000,
      eastingPerColumn: 0.25,
      northingPerColumn: 0,
      eastingPerRow: 0,
      northingPerRow: -0.25,
    }),
  ).toBe('0.25\n0\n0\n-0.25\n558000.125\n347999.875\n')
})

describe('which world file belongs to which picture', () => {
  test.each([
    ['field.jpg', ['field.jgw'], 'field.jgw', []],
    ['field.jpeg', ['field.jgw'], 'field.jgw', []],
    ['field.tif', ['field.TFW'], 'field.TFW', []],
    ['field.tiff', ['field.tifw', 'field.tfw'], 'field.tfw', []],
    ['Field.PNG', ['field.pgw', 'Field.pgw'], 'Field.pgw', []],
    ['field.png', ['field.wld', 'field.pngw'], 'field.pngw', []],
    ['field.jpg', ['other.jgw', 'field.jpg.jgw', 'jgw', 'field.jpg'], 'field.jpg.jgw', []],
    ['field.png', ['field.tfw', 'field.jgw'], null, ['field.tfw', 'field.jgw']],
    ['field.2021.jpg', ['field.jgw', 'field.2021.jgw'], 'field.2021.jgw', []],
    ['field.jpg', [], null, []],
    ['dtm.asc', ['dtm.wld'], null, ['dtm.wld']],
  ])('%s among %j: %s', (picture, names, own, ofOthers) => {
    expect(worldFileFor(picture, names)).toEqual({ own, ofOthers })
  })

  test('the ends of world files are known', () => {
    for (const name of ['a.jgw', 'a.JGW', 'a.b.pgw', 'a.tfw', 'a.tifw', 'a.wld', 'a.pngw'])
      expect(isWorldFileName(name)).toBe(true)
    for (const name of ['a.jpg', 'jgw', 'a.prj', 'a.jgwx', 'a.raw', 'a'])
      expect(isWorldFileName(name)).toBe(false)
  })
})
