import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { type AscHeader, AscReader } from './index.ts'

interface Read {
  readonly header: AscHeader | null
  readonly rows: number[][]
  readonly faults: [number | null, string, string][]
}

function read(text: string, pieceBytes = 1 << 16): Read {
  let header: AscHeader | null = null
  const rows: number[][] = []
  const reader = new AscReader('hill.asc', {
    onHeader: (found) => {
      header = found
      return true
    },
    onRow: (values, row) => {
      expect(row).toBe(rows.length)
      rows.push([...values])
    },
  })
  const bytes = new TextEncoder().encode(text)
  for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes))
  reader.end()
  const faults = reader.faults.map(({ line, code, text: said }): [number | null, string, string] => [
    line,
    code,
    said,
  ])
  return { header, rows, faults }
}

const head = (columns: number, rows: number, more = ''): string =>
  `ncols ${columns}\nnrows ${rows}\nxllcorner 558000\nyllcorner 347000.5\ncellsize 0.5\n${more}`
const small = `${head(3, 2, 'NODATA_value -9999\n')}1 2.5 -9999\n4 5e1 -6\n`

test('header and rows, from pieces of any size', () => {
  for (const pieceBytes of [1, 2, 3, 7, 1000]) {
    const { header, rows, faults } = read(small, pieceBytes)
    expect(faults).toEqual([])
    expect(header).toEqual({
      ...{ columns: 3, rows: 2, cellX: 0.5, cellY: 0.5, west: 558_000, south: 347_000.5, noData: -9999 },
    })
    expect(rows).toEqual([
      [1, 2.5, Number.NaN],
      [4, 50, -6],
    ])
  }
})

test('keys in any order and case, centres, dx and dy, Windows lines, a byte order mark, no last line end', () => {
  const text =
    '\ufeffNROWS 1\r\nncols 2\r\nDX 2\r\ndy 1\r\nXLLCENTER 11\r\nyllcenter 20.5\r\nnodata_value nan\r\n nan   7'
  const { header, rows, faults } = read(text, 5)
  expect(faults).toEqual([])
  expect(header).toMatchObject({ west: 10, south: 20, cellX: 2, cellY: 1, noData: Number.NaN })
  expect(rows).toEqual([[Number.NaN, 7]])
})

test('a grid that states no value for "no data" has -9999', () => {
  expect(read(`${head(2, 1)}-9999 1\n`).rows).toEqual([[Number.NaN, 1]])
})

test('what is written reads back, in lines or wrapped anywhere', () => {
  const height = fc.oneof(
    fc.float({ noNaN: true, noDefaultInfinity: true }),
    fc.integer({ min: -999, max: 9999 }),
  )
  const grid = fc
    .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 }))
    .chain(([columns, rows]) =>
      fc.record({
        columns: fc.constant(columns),
        rows: fc.constant(rows),
        values: fc.array(height, { minLength: columns * rows, maxLength: columns * rows }),
        perLine: fc.constantFrom(columns, columns * rows),
        pieceBytes: fc.integer({ min: 1, max: 40 }),
        gap: fc.constantFrom(' ', '  ', '\t', ' \t'),
        lineEnd: fc.constantFrom('\n', '\r\n', '\r', ' \n'),
      }),
    )
  fc.assert(
    fc.property(grid, ({ columns, rows, values, perLine, pieceBytes, gap, lineEnd }) => {
      const texts = values.map(String)
      let body = ''
      for (let i = 0; i < texts.length; i += perLine) body += texts.slice(i, i + perLine).join(gap) + lineEnd
      const back = read(head(columns, rows) + body, pieceBytes)
      expect(back.faults).toEqual([])
      const wanted = values.map((value) => (value === -9999 ? Number.NaN : Math.fround(value)))
      expect(back.rows.flat().map((value) => value + 0)).toEqual(wanted.map((value) => value + 0))
    }),
  )
})

test('rows broken at every tenth value are read as they are meant', () => {
  const values = Array.from({ length: 3 * 25 }, (_, i) => i)
  let body = ''
  for (let i = 0; i < values.length; i += 10) body += `${values.slice(i, i + 10).join(' ')}\n`
  const { rows, faults } = read(head(25, 3) + body)
  expect(faults).toEqual([])
  expect(rows.flat()).toEqual(values)
})

test.each([
  ['commas between values', `${head(2, 2)}1,2\n3,4\n`, 6, 'bad-value', 'has a comma', 0],
  ['decimal commas', `${head(2, 2)}1 2\n3,5 4\n`, 7, 'bad-value', 'has a comma', 1],
  ['a word', `${head(2, 2)}1 2\n3 high\n`, 7, 'bad-value', '“high” is not a height', 1],
  ['a short row', `${head(3, 3)}1 2 3\n4 5\n6 7 8\n`, 7, 'broken-file', 'Row 2 has 2 heights and not 3', 1],
  [
    'a short first row',
    `${head(3, 3)}1 2\n3 4 5\n6 7 8\n`,
    6,
    'broken-file',
    'Row 1 has 2 heights and not 3',
    0,
  ],
  ['a long row', `${head(2, 2)}1 2\n3 4 5\n`, 7, 'broken-file', 'Row 2 has 2 heights', 1],
  ['a long first row', `${head(2, 2)}1 2 3\n3 4\n`, 6, 'broken-file', 'Row 1 has 3 heights and not 2', 0],
  ['more rows than stated', `${head(2, 1)}1 2\n3 4\n`, 7, 'broken-file', 'More heights follow', 1],
  ['fewer rows than stated', `${head(2, 3)}1 2\n3 4\n`, null, 'broken-file', 'ends after 2 of 3 rows', 2],
  [
    'no cell size',
    'ncols 2\nnrows 1\nxllcorner 0\nyllcorner 0\n1 2\n',
    5,
    'broken-file',
    'lacks cellsize',
    0,
  ],
  ['a header in commas', 'ncols 2\nnrows 1\ncellsize 0,5\n1 2\n', 3, 'bad-value', 'decimal comma', 0],
  ['a header line of its own', `${head(2, 1)}colour red\n1 2\n`, 6, 'bad-value', '“colour” is no line', 0],
  [
    'a size below one',
    'ncols 0\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2\n',
    6,
    'bad-value',
    'above 0',
    0,
  ],
  [
    'a corner nowhere',
    'ncols 1\nnrows 1\nxllcorner 1e300\nyllcorner 0\ncellsize 1\n1\n',
    6,
    'bad-value',
    'nowhere on Earth',
    0,
  ],
  ['nothing', '', null, 'empty-file', 'holds nothing', 0],
])('%s: told once, by line', (_, text, line, code, said, rows) => {
  for (const pieceBytes of [1 << 16, 3]) {
    if (pieceBytes === 3 && /first row/.test(_)) continue
    const { faults, rows: given } = read(text, pieceBytes)
    expect(faults).toHaveLength(1)
    expect(faults[0]!.slice(0, 2)).toEqual([line, code])
    expect(faults[0]![2]).toContain(said)
    expect(given).toHaveLength(rows)
  }
})

test('any bytes end in rows or one clear fault, never otherwise', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 60 }), fc.integer({ min: 1, max: 9 }), (text, pieceBytes) => {
      const { rows, faults } = read(head(2, 2) + text, pieceBytes)
      expect(rows.length).toBeLessThanOrEqual(2)
      expect(rows.length === 2 || faults.length === 1).toBe(true)
    }),
  )
})
