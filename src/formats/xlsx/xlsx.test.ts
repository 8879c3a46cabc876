import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { afterAll, expect, test } from 'vitest'
import { cellText } from '#formats/csv'
import { readXlsx, writeXlsx, type XlsxCell } from './index.ts'

const fixture = new Uint8Array(
  readFileSync(new URL('../../../fixtures/finds/spreadsheet/finds.xlsx', import.meta.url)),
)
const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-xlsx-'))
afterAll(() => rmSync(folder, { recursive: true }))

// Cells as openpyxl 3.1.5 was told to write them: fixtures/finds/spreadsheet/make.py.
test('values of a chosen sheet stand at their rows', async () => {
  const table = await readXlsx(fixture, { fileName: 'finds.xlsx', sheet: 'Finds 2026' })
  expect(table.sheets).toEqual(['Notes', 'Finds 2026'])
  expect(table.rows.map(({ line }) => line)).toEqual([1, 3, 4, 5, 6, 7, 8, 10])
  expect(table.rows.slice(2).map(({ cells }) => cells)).toEqual([
    ['NST-2026-001', 'Buckle', '12.5', '2026-09-12', '', 'true'],
    ['NST-2026-002', 'Coin', '3', '2026-09-12T14:30:00', '43', 'false'],
    ['NST-2026-003', ' =HYPERLINK("http://example.org")', '0.1', '', '', ''],
    ['NST-2026-004', 'Brooch', '', '', '', ''],
    ['', 'Pin of it', '', '', '', ''],
    ['NST-2026-005', 'Ring', '0.0000001', '', '', ''],
  ])
})

test('merged cells and formulas are told, and a formula without a value by its row', async () => {
  const { faults } = await readXlsx(fixture, { fileName: 'finds.xlsx', sheet: 'Finds 2026' })
  expect(faults).toEqual([
    { line: 4, code: 'bad-value', text: expect.stringContaining('E4') },
    { line: 7, code: 'assumed', text: expect.stringContaining('A7:A8, A1:F1') },
    { line: 4, code: 'assumed', text: expect.stringContaining('E4, C5') },
  ])
})

test('the first sheet that shows is read where none is chosen, and that is told', async () => {
  const table = await readXlsx(fixture, { fileName: 'finds.xlsx' })
  expect(table).toMatchObject({ sheet: 'Notes', rows: [{ cells: ['Not the table'], line: 1 }] })
  expect(table.faults).toEqual([{ line: null, code: 'assumed', text: 'The sheet “Notes” was read, of 2.' }])
})

test.each<[string, Uint8Array, string, string | undefined]>([
  ['nothing', new Uint8Array(), 'empty-file', undefined],
  ['an old workbook', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1), 'wrong-extension', undefined],
  ['text', strToU8('number,object\n1,coin\n'), 'broken-file', undefined],
  ['a zip of something else', zipSync({ 'a.txt': strToU8('x') }), 'broken-file', undefined],
  ['half a file', fixture.subarray(0, 3000), 'broken-file', undefined],
  ['a sheet that is not there', fixture, 'not-found', 'Coins'],
])('%s is refused in a sentence', async (_, bytes, code, sheet) => {
  await expect(readXlsx(bytes, { fileName: 'finds.xlsx', sheet })).rejects.toMatchObject({
    name: 'SurveyError',
    code,
    message: expect.stringContaining('finds.xlsx'),
  })
})

/** The archive with every statement of one size changed to another: a lie. */
function lying(zip: Uint8Array, size: number, said: number): Uint8Array {
  const told = zip.slice()
  const view = new DataView(told.buffer)
  for (let at = 0; at + 4 < told.length; at++) {
    if (view.getUint32(at, true) === size) view.setUint32(at, said, true)
  }
  return told
}

test('a workbook that swells is refused before it is unpacked, and so is one that lies about it', async () => {
  const size = 2 * 2 ** 20 + 77
  const swollen = zipSync({
    'xl/workbook.xml': strToU8('<workbook><sheets><sheet name="A" r:id="a"/></sheets></workbook>'),
    'xl/_rels/workbook.xml.rels': strToU8('<R><Relationship Id="a" Target="worksheets/sheet1.xml"/></R>'),
    'xl/worksheets/sheet1.xml': new Uint8Array(size),
  })
  const read = (bytes: Uint8Array) => readXlsx(bytes, { fileName: 'finds.xlsx' })
  await expect(read(lying(swollen, size, 2 ** 28))).rejects.toMatchObject({ code: 'file-too-large' })
  await expect(read(swollen)).rejects.toMatchObject({ code: 'unsafe-file' })
  await expect(read(lying(swollen, size, 1000))).rejects.toMatchObject({ code: 'broken-file' })
})

test('what was written is read again, formulas as text', async () => {
  const anyCell = fc.oneof(
    fc.constantFrom(
      '=1+1',
      "'=1+1",
      '+44',
      'valueOf',
      'constructor',
      '-5',
      '@SUM(A1)',
      '<b>&amp;',
      'a\nb',
      'café ☂',
      '  edge  ',
    ),
    fc.stringMatching(/^[ -~]{0,20}$/),
    fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    fc.constant(null),
  )
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(anyCell, anyCell, anyCell), { minLength: 1, maxLength: 6 }),
      async (rows) => {
        const bytes = writeXlsx('Finds', ['a', 'b', 'c'], rows)
        const read = await readXlsx(bytes, { fileName: 'x.xlsx' })
        const at = new Map(read.rows.map(({ cells, line }) => [line, cells]))
        for (const [r, row] of rows.entries()) {
          for (const [c, cell] of row.entries()) {
            const got = cellText(at.get(r + 2)?.[c])
            if (typeof cell === 'number') expect(Number(got)).toBeCloseTo(cell, 9)
            else expect(got).toBe((cell ?? '').trim())
          }
        }
      },
    ),
    { numRuns: 30 },
  )
})

test('a wrong sheet name is refused, and like cells make like bytes', () => {
  expect(() => writeXlsx('a/b', ['a'], [])).toThrow(RangeError)
  expect(writeXlsx('a & b', ['a'], [['x']])).toEqual(writeXlsx('a & b', ['a'], [['x']]))
})

/** GDAL's reader of xlsx (tried with 3.6.2), an outside program that opens what was written. Skipped without it. */
const lister = 'ogrinfo'
const canOpen = spawnSync(lister, ['--version']).error === undefined
test.skipIf(!canOpen)('another program opens the workbook and sees the same cells', async () => {
  const rows: XlsxCell[][] = [
    ['NST-2026-001', 12.5, '=1+1'],
    ['NST-2026-002', null, 'Ring & pin, "bent"'],
  ]
  const file = path.join(folder, 'out.xlsx')
  writeFileSync(file, writeXlsx('Finds', ['Number', 'Weight (g)', 'Object'], rows))
  const text = execFileSync(lister, ['-al', '-q', file], { encoding: 'utf8' })
  expect(text).toContain('Layer name: Finds')
  expect(text).toContain('Number (String) = NST-2026-001')
  expect(text).toContain('Weight (g) (Real) = 12.5')
  expect(text).toContain("Object (String) = '=1+1")
  expect(text).toContain('Object (String) = Ring & pin, "bent"')
})
