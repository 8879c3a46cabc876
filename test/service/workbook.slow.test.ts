import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { describe, expect, test } from 'vitest'
import { type FindRecord, numberedFind } from '#core/finds'
import { readTable } from '#formats/csv'
import { findsXlsx, type WrittenPlace } from '#formats/finds-table'
import { readXlsx } from '#formats/xlsx'

/** Runs wherever LibreOffice Calc is (Debian: libreoffice-calc-nogui). Made against LibreOffice 7.4.7. */
const version = spawnSync('soffice', ['--version'], { encoding: 'utf8' }).stdout

const texts = [
  '=1+2',
  "'=1+2",
  '@SUM(A1)',
  '-4 to 5',
  '+44',
  '1200 BC',
  '007',
  '3/4',
  '12.5.2026',
  'TRUE',
  '"quoted", with a comma',
  'two\nlines',
  '<b>&amp;</b>',
  'Ærø, 魚, 🪙',
  'valueOf',
]

const finds = texts.map(
  (text, i): FindRecord => ({
    ...numberedFind(`NST-2026-${String(i + 1).padStart(3, '0')}`),
    objectType: { text, term: i % 2 === 0 ? 'own:7' : null },
    materials: [
      { text: 'Copper alloy', term: 'fish:75339' },
      { text, term: null },
    ],
    fromYear: -1200 + i,
    toYear: i + 1,
    weightG: 0.1 + i * 1e-6,
    depthCm: i === 3 ? 0 : null,
    description: text,
    notes: `${text} and more`,
  }),
)
const place: WrittenPlace = {
  lat: 53.012345678,
  lon: 0.312345678,
  easting: 558_400.123,
  northing: 347_500.456,
  epsg: 27_700,
  gridRef: 'TF 58400 47500',
  accuracyM: 2.5,
  foundOn: '2026-11-20T10:00:00.000Z',
}

/** The first sheet as CSV, by LibreOffice: comma, UTF-8, text in quotation marks, values as they are stored and not as they are shown. */
function asCsv(xlsx: Uint8Array): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), 'lynchet-test-'))
  try {
    writeFileSync(join(folder, 'a.xlsx'), xlsx)
    const home = `-env:UserInstallation=${pathToFileURL(join(folder, 'home'))}`
    const filter = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,true,false'
    const { stderr, status } = spawnSync(
      'soffice',
      [home, '--headless', '--convert-to', filter, '--outdir', folder, join(folder, 'a.xlsx')],
      { encoding: 'utf8', timeout: 60_000 },
    )
    expect({ status, stderr: status === 0 ? '' : stderr }).toEqual({ status: 0, stderr: '' })
    return new Uint8Array(readFileSync(join(folder, 'a.csv')))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** LibreOffice writes 15 figures of a number. */
function plain(cell: string): string {
  if (/^-?\d+\.\d+$/.test(cell)) return Number(cell).toPrecision(14)
  return cell.replaceAll('\r\n', '\n')
}

describe.skipIf(!version)(
  `a workbook of finds in ${version || 'LibreOffice, which is not installed here'}`,
  () => {
    test('opens headless, and has the same cells that we read from it', { timeout: 90_000 }, async () => {
      const xlsx = findsXlsx(finds, ({ number }) => (number.endsWith('2') ? null : place))
      const ours = await readXlsx(xlsx, { fileName: 'a.xlsx' })
      const theirs = readTable(asCsv(xlsx), 'a.csv')
      expect(theirs.rows.map(({ cells }) => cells.map(plain))).toEqual(
        ours.rows.map(({ cells }) => cells.map(plain)),
      )
      expect(theirs.rows).toHaveLength(texts.length + 1)
      expect(theirs.rows[1]!.cells.slice(0, 2)).toEqual(['NST-2026-001', "'=1+2"])
    })
  },
)
